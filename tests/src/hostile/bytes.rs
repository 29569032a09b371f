//! Bytes spent one after the other on choices; when they are spent, every choice is the first.

/// What is left of the bytes.
pub(super) struct Bytes<'a>(&'a [u8]);

impl<'a> Bytes<'a> {
    pub(super) fn of(bytes: &'a [u8]) -> Bytes<'a> {
        Bytes(bytes)
    }

    /// Whether there is something left to choose with.
    pub(super) fn are_left(&self) -> bool {
        !self.0.is_empty()
    }

    /// One byte.
    pub(super) fn byte(&mut self) -> u8 {
        self.0.split_off_first().copied().unwrap_or_default()
    }

    /// A number below an end.
    pub(super) fn below(&mut self, end: usize) -> usize {
        let wide = usize::from(self.byte()) << 8 | usize::from(self.byte());
        if end == 0 { 0 } else { wide % end }
    }

    /// One of these.
    pub(super) fn one_of<T: Copy>(&mut self, all: &[T], first: T) -> T {
        let rank = usize::from(self.byte()) % all.len().max(1);
        all.get(rank).copied().unwrap_or(first)
    }

    /// So many bytes, as letters.
    pub(super) fn letters(&mut self, count: usize) -> String {
        let (taken, rest) = self.0.split_at(count.min(self.0.len()));
        self.0 = rest;
        String::from_utf8_lossy(taken).into_owned()
    }
}

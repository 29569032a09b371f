//! Where something stands: a byte range of one of the texts.

/// A range of bytes in one text, the end exclusive.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The range from `start` up to `end`.
    ///
    /// Texts are refused above 10 MiB, so an offset always fits; a larger one saturates.
    #[must_use]
    pub fn new(start: usize, end: usize) -> Span {
        let fit = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Span {
            start: fit(start),
            end: fit(end),
        }
    }

    /// An empty range, where something could be put in.
    #[must_use]
    pub fn at(offset: usize) -> Span {
        Span::new(offset, offset)
    }

    /// The smallest range that holds both.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        Span {
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// The range as indices into the text.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// The part of `text` that it covers; empty where the range does not lie in the text.
    #[must_use]
    pub fn of(self, text: &str) -> &str {
        text.get(self.range()).unwrap_or("")
    }

    /// This range moved `bytes` further on.
    #[must_use]
    pub fn after(self, bytes: usize) -> Span {
        Span::new(self.start as usize + bytes, self.end as usize + bytes)
    }
}

/// A text of the farm, by its rank in the farm's list of texts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

impl FileId {
    /// The rank as an index.
    #[must_use]
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A range in a certain text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// Which text.
    pub file: FileId,
    /// Where in it.
    pub span: Span,
}

impl Place {
    /// The place of `span` in `file`.
    #[must_use]
    pub fn new(file: FileId, span: Span) -> Place {
        Place { file, span }
    }
}

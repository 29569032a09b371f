//! Paragraphs: letters shaped, ordered and broken into lines, in any script.

use crate::clean;
use crate::fonts::Fonts;
use parley::{
    Alignment, AlignmentOptions, FontFamily, FontWeight, GenericFamily, Layout, LayoutContext,
    LineHeight, OverflowWrap, StyleProperty,
};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// What marks above and below letters take more, in letter heights.
const HIGHER: f32 = 0.15;

/// So many paragraphs are kept, then all are forgotten.
const MOST_KEPT: usize = 20_000;

/// What a paragraph depends on.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    text: String,
    /// From which byte to which it is bold.
    bolds: Vec<(usize, usize)>,
    /// Bits of the numbers, which are only ever compared.
    size: u32,
    leading: u32,
    within: Option<(Side, u32)>,
}

/// Sets paragraphs, and remembers what it had no letters for.
pub(crate) struct Setter {
    pub(crate) fonts: Fonts,
    /// From one base line to the next, in letter heights, where no script needs more.
    pub(crate) leading: f32,
    layouts: LayoutContext<()>,
    /// What was set before: a sheet is drawn several times until it fits.
    kept: BTreeMap<Key, Rc<Paragraph>>,
    measured: BTreeMap<Key, Widths>,
    asked: BTreeSet<char>,
    undrawable: BTreeSet<char>,
}

/// A part of a paragraph.
#[derive(Clone, Copy)]
pub(crate) struct Span<'a> {
    pub(crate) text: &'a str,
    pub(crate) is_bold: bool,
}

/// Set in the usual weight.
pub(crate) fn plain(text: &str) -> Span<'_> {
    Span {
        text,
        is_bold: false,
    }
}

/// Set bold.
pub(crate) fn bold(text: &str) -> Span<'_> {
    Span {
        text,
        is_bold: true,
    }
}

/// Where the lines of a paragraph begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Side {
    /// Where its first strong letter begins to be read.
    Start,
    Left,
    Right,
    Middle,
}

/// A paragraph set at a width.
pub(crate) struct Paragraph {
    pub(crate) layout: Layout<()>,
    pub(crate) text: String,
}

impl Paragraph {
    pub(crate) fn height(&self) -> f32 {
        self.layout.height()
    }

    /// How wide its longest line is.
    pub(crate) fn width(&self) -> f32 {
        self.layout.width()
    }

    /// How far down the first base line is.
    pub(crate) fn first_baseline(&self) -> f32 {
        self.layout.first_baseline().unwrap_or(0.0)
    }

    pub(crate) fn last_baseline(&self) -> f32 {
        self.layout.last_baseline().unwrap_or(0.0)
    }

    /// It begins at the right, as Arabic does.
    pub(crate) fn is_from_right(&self) -> bool {
        self.layout.is_rtl()
    }

    /// Upper and lower edge of each line.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (f32, f32)> + '_ {
        self.layout.lines().map(|line| {
            let metrics = line.metrics();
            (metrics.block_min_coord, metrics.block_max_coord)
        })
    }
}

/// How wide a paragraph is without breaking it, and where it is broken at every place allowed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Widths {
    pub(crate) natural: f32,
    pub(crate) least: f32,
}

impl Setter {
    pub(crate) fn new() -> Setter {
        Setter {
            fonts: Fonts::embedded(),
            leading: 1.2,
            layouts: LayoutContext::new(),
            kept: BTreeMap::new(),
            measured: BTreeMap::new(),
            asked: BTreeSet::new(),
            undrawable: BTreeSet::new(),
        }
    }

    pub(crate) fn undrawable(&self) -> Vec<char> {
        self.undrawable.iter().copied().collect()
    }

    /// Sets the spans as one paragraph, in lines of at most the width.
    pub(crate) fn set(
        &mut self,
        spans: &[Span<'_>],
        size: f32,
        side: Side,
        width: f32,
    ) -> Rc<Paragraph> {
        self.kept(spans, size, Some((side, width.max(1.0))))
    }

    /// Sets the spans in lines that are only broken where the text is.
    pub(crate) fn set_unbroken(&mut self, spans: &[Span<'_>], size: f32) -> Rc<Paragraph> {
        self.kept(spans, size, None)
    }

    pub(crate) fn widths(&mut self, spans: &[Span<'_>], size: f32) -> Widths {
        let key = self.key(spans, size, None);
        if let Some(widths) = self.measured.get(&key) {
            return *widths;
        }
        let mut layout = self.shape(&key, size);
        let least = layout.calculate_content_widths().min;
        layout.break_all_lines(None);
        // A hair more, lest what fits exactly is broken for a rounding error.
        let natural = layout.width() + 0.1;
        let widths = Widths { natural, least };
        if self.measured.len() >= MOST_KEPT {
            self.measured.clear();
        }
        self.measured.insert(key, widths);
        widths
    }

    fn kept(
        &mut self,
        spans: &[Span<'_>],
        size: f32,
        within: Option<(Side, f32)>,
    ) -> Rc<Paragraph> {
        let key = self.key(spans, size, within);
        if let Some(paragraph) = self.kept.get(&key) {
            return Rc::clone(paragraph);
        }
        let mut layout = self.shape(&key, size);
        layout.break_all_lines(within.map(|(_, width)| width));
        let alignment = match within.map(|(side, _)| side) {
            Some(Side::Start) => Alignment::Start,
            None | Some(Side::Left) => Alignment::Left,
            Some(Side::Right) => Alignment::Right,
            Some(Side::Middle) => Alignment::Center,
        };
        layout.align(alignment, AlignmentOptions::default());
        let text = key.text.clone();
        let paragraph = Rc::new(Paragraph { layout, text });
        if self.kept.len() >= MOST_KEPT {
            self.kept.clear();
        }
        self.kept.insert(key, Rc::clone(&paragraph));
        paragraph
    }

    fn key(&mut self, spans: &[Span<'_>], size: f32, within: Option<(Side, f32)>) -> Key {
        let mut text = String::new();
        let mut bolds = Vec::new();
        for span in spans {
            let from = text.len();
            clean::append(&mut text, span.text);
            if span.is_bold {
                bolds.push((from, text.len()));
            }
        }
        Key {
            text,
            bolds,
            size: size.to_bits(),
            leading: self.leading.to_bits(),
            within: within.map(|(side, width)| (side, width.to_bits())),
        }
    }

    fn shape(&mut self, key: &Key, size: f32) -> Layout<()> {
        self.ask(&key.text);
        let fonts = &mut self.fonts.context;
        let mut builder = self.layouts.ranged_builder(fonts, &key.text, 1.0, false);
        builder.push_default(FontFamily::from(GenericFamily::SansSerif));
        builder.push_default(StyleProperty::FontSize(size));
        builder.push_default(line_height(&key.text, self.leading));
        builder.push_default(StyleProperty::OverflowWrap(OverflowWrap::BreakWord));
        for (from, to) in &key.bolds {
            builder.push(StyleProperty::FontWeight(FontWeight::BOLD), *from..*to);
        }
        builder.build(&key.text)
    }

    /// Looks up each character once.
    fn ask(&mut self, text: &str) {
        for character in text.chars() {
            if !clean::is_shapeless(character)
                && self.asked.insert(character)
                && !self.fonts.has(character)
            {
                self.undrawable.insert(character);
            }
        }
    }
}

/// Scripts that reach further up and down than Latin letters get more room, or what their fonts ask for.
fn line_height(text: &str, leading: f32) -> LineHeight {
    let is_low = |character: char| matches!(character, '\0'..='\u{58F}' | '\u{10A0}'..='\u{10FF}' | '\u{1E00}'..='\u{2BFF}' | '\u{FFFD}');
    // Hebrew, and the scripts of India whose marks are single: Devanagari to Tamil, Malayalam, Sinhala; Ethiopic.
    let is_middle = |character: char| {
        matches!(character, '\u{590}'..='\u{5FF}' | '\u{900}'..='\u{AFF}' | '\u{B80}'..='\u{BFF}'
            | '\u{D00}'..='\u{DFF}' | '\u{1200}'..='\u{139F}')
    };
    if text.chars().all(is_low) {
        LineHeight::FontSizeRelative(leading)
    } else if text.chars().all(|it| is_low(it) || is_middle(it)) {
        LineHeight::FontSizeRelative(leading + HIGHER)
    } else {
        LineHeight::NORMAL
    }
}

//! Paragraphs: letters shaped, ordered and broken into lines, in any script.

use crate::clean;
use crate::fonts::Fonts;
use parley::{
    Alignment, AlignmentOptions, FontFamily, FontWeight, GenericFamily, Layout, LayoutContext,
    LineHeight, OverflowWrap, StyleProperty,
};
use std::collections::BTreeSet;
use std::rc::Rc;

/// Sets paragraphs, and remembers what it had no letters for.
pub(crate) struct Setter {
    pub(crate) fonts: Fonts,
    /// From one base line to the next, in letter heights, where no script needs more.
    pub(crate) leading: f32,
    layouts: LayoutContext<()>,
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
        let (text, mut layout) = self.shape(spans, size);
        layout.break_all_lines(Some(width.max(1.0)));
        let alignment = match side {
            Side::Start => Alignment::Start,
            Side::Left => Alignment::Left,
            Side::Right => Alignment::Right,
            Side::Middle => Alignment::Center,
        };
        layout.align(alignment, AlignmentOptions::default());
        Rc::new(Paragraph { layout, text })
    }

    /// Sets the spans in lines that are only broken where the text is.
    pub(crate) fn set_unbroken(&mut self, spans: &[Span<'_>], size: f32) -> Rc<Paragraph> {
        let (text, mut layout) = self.shape(spans, size);
        layout.break_all_lines(None);
        layout.align(Alignment::Left, AlignmentOptions::default());
        Rc::new(Paragraph { layout, text })
    }

    pub(crate) fn widths(&mut self, spans: &[Span<'_>], size: f32) -> Widths {
        let (_, mut layout) = self.shape(spans, size);
        let least = layout.calculate_content_widths().min;
        layout.break_all_lines(None);
        // A hair more, lest what fits exactly is broken for a rounding error.
        let natural = layout.width() + 0.1;
        Widths { natural, least }
    }

    fn shape(&mut self, spans: &[Span<'_>], size: f32) -> (String, Layout<()>) {
        let mut text = String::new();
        let mut bolds = Vec::new();
        for span in spans {
            let from = text.len();
            clean::append(&mut text, span.text);
            if span.is_bold {
                bolds.push(from..text.len());
            }
        }
        self.ask(&text);
        let fonts = &mut self.fonts.context;
        let mut builder = self.layouts.ranged_builder(fonts, &text, 1.0, false);
        builder.push_default(FontFamily::from(GenericFamily::SansSerif));
        builder.push_default(StyleProperty::FontSize(size));
        builder.push_default(line_height(&text, self.leading));
        builder.push_default(StyleProperty::OverflowWrap(OverflowWrap::BreakWord));
        for range in bolds {
            builder.push(StyleProperty::FontWeight(FontWeight::BOLD), range);
        }
        let layout = builder.build(&text);
        (text, layout)
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

/// Scripts that reach further up and down than Latin letters get the room their fonts ask for.
fn line_height(text: &str, leading: f32) -> LineHeight {
    let is_low = |character: char| matches!(character, '\0'..='\u{52F}' | '\u{1E00}'..='\u{2BFF}' | '\u{FFFD}');
    if text.chars().all(is_low) {
        LineHeight::FontSizeRelative(leading)
    } else {
        LineHeight::NORMAL
    }
}

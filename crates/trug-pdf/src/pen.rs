//! Ink drawn: letters, lines, rectangles and the picture.

use crate::clean::unglued;
use crate::flow::Size;
use crate::picture::{Drawing, Mark};
use crate::piece::{Ink, Look, Shade};
use crate::tags;
use crate::text::{Paragraph, Setter, bold};
use krilla::Data;
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::collections::BTreeMap;
use std::ops::Range;

/// How much of the letter's height is drawn around it where a font has no bold.
const EMBOLDENED: f32 = 0.035;

/// A circle of four curves: how far their handles reach, for a radius of 1.
const CIRCLE: f32 = 0.552_284_8;

/// Draws, and remembers the fonts it has opened.
pub(crate) struct Pen {
    fonts: BTreeMap<u64, Option<Font>>,
}

/// How letters are put on the paper.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Letters {
    Filled(Shade),
    /// Only their edges, light: what stands on them stays readable.
    Outlined,
}

impl Pen {
    pub(crate) fn new() -> Pen {
        Pen {
            fonts: BTreeMap::new(),
        }
    }

    /// Draws one piece of ink; text says which element it belongs to.
    pub(crate) fn ink(
        &mut self,
        surface: &mut Surface<'_>,
        setter: &Setter,
        ink: &Ink,
    ) -> Option<(tags::Tag, Identifier)> {
        match ink {
            Ink::Line {
                paragraph,
                line,
                x,
                y,
                shade,
                tag,
                ..
            } => {
                let content = match tag {
                    Some(_) => ContentTag::Span(SpanTag::empty()),
                    None => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Header)),
                };
                let identifier = surface.start_tagged(content);
                let letters = Letters::Filled(*shade);
                self.letters(surface, setter, paragraph, *line, (*x, *y), letters);
                surface.end_tagged();
                tag.map(|tag| (tag, identifier))
            }
            Ink::Rule { from, to, width } => {
                as_ornament(surface, |surface| {
                    stroke(surface, *width, false);
                    path(surface, polygon(&[*from, *to], false));
                });
                None
            }
            Ink::Frame {
                x,
                y,
                width,
                height,
                look,
            } => {
                let corners = [
                    (*x, *y),
                    (x + width, *y),
                    (x + width, y + height),
                    (*x, y + height),
                ];
                as_ornament(surface, |surface| {
                    match look {
                        Look::Edge(line) => stroke(surface, *line, false),
                        Look::Dashed(line) => stroke(surface, *line, true),
                        Look::Filled(shade) => fill(surface, *shade),
                    }
                    path(surface, polygon(&corners, true));
                });
                None
            }
            Ink::Drawing { drawing, x, y, tag } => {
                let identifier = surface.start_tagged(ContentTag::Other);
                self.drawing(surface, setter, drawing, *x, *y);
                surface.end_tagged();
                Some((*tag, identifier))
            }
        }
    }

    /// A word across the page from corner to corner, behind all else.
    pub(crate) fn behind(
        &mut self,
        surface: &mut Surface<'_>,
        setter: &mut Setter,
        word: &str,
        size: Size,
    ) {
        let diagonal = size.width.hypot(size.height);
        let natural = setter.set_unbroken(&[bold(word)], 100.0).width().max(1.0);
        let height = (100.0 * diagonal * 0.72 / natural).clamp(4.0, 260.0);
        let set = setter.set_unbroken(&[bold(word)], height);
        let angle = -size.height.atan2(size.width).to_degrees();
        let content = ContentTag::Artifact(Artifact::with_kind(ArtifactType::Watermark));
        surface.start_tagged(content);
        let (x, y) = (size.width / 2.0, size.height / 2.0);
        surface.push_transform(&Transform::from_translate(x, y));
        surface.push_transform(&Transform::from_rotate(angle));
        let place = (-set.width() / 2.0, -set.height() / 2.0);
        self.letters(surface, setter, &set, 0, place, Letters::Outlined);
        surface.pop();
        surface.pop();
        surface.end_tagged();
    }

    fn drawing(
        &mut self,
        surface: &mut Surface<'_>,
        setter: &Setter,
        drawing: &Drawing,
        x: f32,
        y: f32,
    ) {
        let at = |points: &[(f32, f32)]| -> Vec<(f32, f32)> {
            points
                .iter()
                .map(|point| (point.0 + x, point.1 + y))
                .collect()
        };
        let line = drawing.scale.max(0.6);
        for mark in &drawing.marks {
            match mark {
                Mark::Outline(points) => {
                    stroke(surface, line, false);
                    surface.set_fill(Some(filled(Shade::White)));
                    path(surface, polygon(&at(points), true));
                }
                Mark::Arrow(points) => arrow(surface, &at(points), line),
                Mark::Circle { middle, radius } => {
                    stroke(surface, line * 0.75, false);
                    surface.set_fill(Some(filled(Shade::White)));
                    path(surface, circle(middle.0 + x, middle.1 + y, *radius));
                }
                Mark::Text(paragraph, place) => {
                    let place = (place.0 + x, place.1 + y);
                    let letters = Letters::Filled(Shade::Black);
                    for (line, _) in paragraph.lines().enumerate() {
                        self.letters(surface, setter, paragraph, line, place, letters);
                    }
                }
            }
        }
    }

    /// One line of a paragraph whose upper left corner is at the place.
    fn letters(
        &mut self,
        surface: &mut Surface<'_>,
        setter: &Setter,
        paragraph: &Paragraph,
        line: usize,
        place: (f32, f32),
        letters: Letters,
    ) {
        let Some(line) = paragraph.layout.get(line) else {
            return;
        };
        let metrics = line.metrics();
        let mut x = place.0 + metrics.offset + metrics.inline_min_coord;
        let y = place.1 + metrics.baseline;
        for run in line.runs() {
            let size = run.font_size();
            let font = self.font(setter, run.font().data.id());
            if let Some(font) = font {
                let (glyphs, said) = glyphs(&run, &paragraph.text, size);
                paint(surface, letters, run.synthesis().embolden(), size);
                let start = Point::from_xy(x, y);
                surface.draw_glyphs(start, &glyphs, font, &said, size, false);
            }
            x += run.advance();
        }
    }

    fn font(&mut self, setter: &Setter, id: u64) -> Option<Font> {
        let font = self.fonts.entry(id).or_insert_with(|| {
            let bytes = setter.fonts.bytes(id)?;
            Font::new(Data::from(bytes), 0)
        });
        font.clone()
    }
}

/// The glyphs of a run from left to right, each with its part of the text that they are read out as.
fn glyphs(run: &parley::Run<'_, ()>, text: &str, size: f32) -> (Vec<KrillaGlyph>, String) {
    // In the order of the text: what of it, and its glyphs. A ligature has all of its glyphs at its first part.
    let mut clusters: Vec<(Range<usize>, Vec<parley::Glyph>)> = Vec::new();
    let mut said = String::new();
    for cluster in run.clusters() {
        let from = said.len();
        let of_cluster = text.get(cluster.text_range()).unwrap_or_default();
        let of_cluster = unglued(of_cluster);
        // A line's end, or a joiner: it has no shape, and is not read out.
        if of_cluster == "\n" || of_cluster.is_empty() {
            continue;
        }
        said.push_str(&of_cluster);
        match clusters.last_mut() {
            Some((before, _)) if cluster.is_ligature_continuation() => before.end = said.len(),
            _ => clusters.push((from..said.len(), cluster.glyphs().collect())),
        }
    }
    if run.is_rtl() {
        clusters.reverse();
    }
    let mut glyphs = Vec::new();
    for (text_range, shapes) in clusters {
        for shape in shapes {
            glyphs.push(KrillaGlyph {
                glyph_id: GlyphId::new(shape.id),
                text_range: text_range.clone(),
                x_advance: shape.advance / size,
                x_offset: shape.x / size,
                y_offset: -shape.y / size,
                y_advance: 0.0,
                location: None,
            });
        }
    }
    (glyphs, said)
}

fn paint(surface: &mut Surface<'_>, letters: Letters, is_emboldened: bool, size: f32) {
    match letters {
        Letters::Filled(shade) => {
            surface.set_fill(Some(filled(shade)));
            let around = is_emboldened.then(|| Stroke {
                paint: luma::Color::new(lightness(shade)).into(),
                width: size * EMBOLDENED,
                ..Stroke::default()
            });
            surface.set_stroke(around);
        }
        Letters::Outlined => {
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke {
                paint: luma::Color::new(190).into(),
                width: 2.0,
                ..Stroke::default()
            }));
        }
    }
}

fn lightness(shade: Shade) -> u8 {
    match shade {
        Shade::Black => 0,
        Shade::White => 255,
        Shade::Light => 228,
    }
}

fn filled(shade: Shade) -> Fill {
    Fill {
        paint: luma::Color::new(lightness(shade)).into(),
        ..Fill::default()
    }
}

/// Sets the surface to draw edges only.
fn stroke(surface: &mut Surface<'_>, width: f32, is_dashed: bool) {
    surface.set_fill(None);
    let dash = is_dashed.then(|| StrokeDash {
        array: vec![5.0, 3.0],
        offset: 0.0,
    });
    surface.set_stroke(Some(Stroke {
        width,
        dash,
        ..Stroke::default()
    }));
}

/// Sets the surface to fill only.
fn fill(surface: &mut Surface<'_>, shade: Shade) {
    surface.set_stroke(None);
    surface.set_fill(Some(filled(shade)));
}

fn path(surface: &mut Surface<'_>, path: Option<Path>) {
    if let Some(path) = path {
        surface.draw_path(&path);
    }
}

fn as_ornament(surface: &mut Surface<'_>, draw: impl FnOnce(&mut Surface<'_>)) {
    let content = ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout));
    surface.start_tagged(content);
    draw(surface);
    surface.end_tagged();
}

fn polygon(points: &[(f32, f32)], is_closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for (index, (x, y)) in points.iter().enumerate() {
        if index == 0 {
            builder.move_to(*x, *y);
        } else {
            builder.line_to(*x, *y);
        }
    }
    if is_closed {
        builder.close();
    }
    builder.finish()
}

fn circle(x: f32, y: f32, radius: f32) -> Option<Path> {
    let handle = radius * CIRCLE;
    let mut builder = PathBuilder::new();
    builder.move_to(x + radius, y);
    builder.cubic_to(
        x + radius,
        y + handle,
        x + handle,
        y + radius,
        x,
        y + radius,
    );
    builder.cubic_to(
        x - handle,
        y + radius,
        x - radius,
        y + handle,
        x - radius,
        y,
    );
    builder.cubic_to(
        x - radius,
        y - handle,
        x - handle,
        y - radius,
        x,
        y - radius,
    );
    builder.cubic_to(
        x + handle,
        y - radius,
        x + radius,
        y - handle,
        x + radius,
        y,
    );
    builder.close();
    builder.finish()
}

/// A line with a filled head at its last point.
fn arrow(surface: &mut Surface<'_>, points: &[(f32, f32)], line: f32) {
    let [.., before, tip] = points else {
        return;
    };
    let (along, across) = (tip.0 - before.0, tip.1 - before.1);
    let length = along.hypot(across);
    if length <= 0.0 {
        return;
    }
    let (along, across) = (along / length, across / length);
    let (long, wide) = (6.0 * line, 2.6 * line);
    let foot = (tip.0 - along * long, tip.1 - across * long);
    let mut shaft = points.to_vec();
    if let Some(last) = shaft.last_mut() {
        *last = foot;
    }
    stroke(surface, line, false);
    path(surface, polygon(&shaft, false));
    let left = (foot.0 - across * wide, foot.1 + along * wide);
    let right = (foot.0 + across * wide, foot.1 - along * wide);
    fill(surface, Shade::Black);
    path(surface, polygon(&[*tip, left, right], true));
}

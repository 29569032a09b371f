//! The dilution as a picture: its shapes at the scale that fits, its texts set with the same fonts as all others.

use crate::text::{Paragraph, Setter, bold, plain};
use std::rc::Rc;
use trug_report::sheet::picture::{Anchor, Picture, Point, Shape};

/// A picture at its scale. Coordinates are points from its upper left corner.
pub(crate) struct Drawing {
    pub(crate) width: f32,
    pub(crate) height: f32,
    pub(crate) marks: Vec<Mark>,
    /// How much smaller than natural it is.
    pub(crate) scale: f32,
}

/// A shape at its scale.
pub(crate) enum Mark {
    Outline(Vec<(f32, f32)>),
    Arrow(Vec<(f32, f32)>),
    Circle {
        middle: (f32, f32),
        radius: f32,
    },
    /// Its upper left corner is at the place.
    Text(Rc<Paragraph>, (f32, f32)),
}

/// What the picture really takes, its texts measured.
struct Extent {
    left: f32,
    top: f32,
    right: f32,
    bottom: f32,
}

/// Draws the picture at this scale, or smaller where it would be wider or higher than this. None where there is nothing
/// in it.
pub(crate) fn drawing(
    setter: &mut Setter,
    picture: &Picture,
    scale: f32,
    (width, height): (f32, f32),
) -> Option<Drawing> {
    if picture.shapes.is_empty() || width <= 0.0 || height <= 0.0 {
        return None;
    }
    let extent = extent(setter, picture);
    let (wide, high) = extent.size();
    let scale = (width / wide).min(height / high).min(scale);
    let place = |point: Point| {
        let x = (point.x as f32 - extent.left) * scale;
        (x, (point.y as f32 - extent.top) * scale)
    };
    let mut marks = Vec::new();
    for shape in &picture.shapes {
        marks.push(match shape {
            Shape::Outline(points) => Mark::Outline(points.iter().copied().map(place).collect()),
            Shape::Arrow(points) => Mark::Arrow(points.iter().copied().map(place).collect()),
            Shape::Circle { middle, radius } => Mark::Circle {
                middle: place(*middle),
                radius: *radius as f32 * scale,
            },
            Shape::Text {
                at,
                anchor,
                size,
                is_bold,
                text,
            } => {
                let span = if *is_bold { bold(text) } else { plain(text) };
                let set = setter.set_unbroken(&[span], *size as f32 * scale);
                let (x, y) = place(*at);
                let left = x - set.width() * before(*anchor);
                let top = y - set.first_baseline();
                Mark::Text(set, (left, top))
            }
        });
    }
    Some(Drawing {
        width: wide * scale,
        height: high * scale,
        marks,
        scale,
    })
}

/// How wide it is at its natural size; 0 where there is nothing in it.
pub(crate) fn natural_width(setter: &mut Setter, picture: &Picture) -> f32 {
    if picture.shapes.is_empty() {
        return 0.0;
    }
    extent(setter, picture).size().0
}

/// What share of a text stands before its anchor.
fn before(anchor: Anchor) -> f32 {
    match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    }
}

/// The ground and whatever reaches over it: letters here may be wider than whoever placed them thought.
fn extent(setter: &mut Setter, picture: &Picture) -> Extent {
    let mut extent = Extent {
        left: 0.0,
        top: 0.0,
        right: picture.width as f32,
        bottom: picture.height as f32,
    };
    for shape in &picture.shapes {
        match shape {
            Shape::Outline(points) | Shape::Arrow(points) => {
                for point in points {
                    extent.reach(point.x as f32, point.y as f32, 1.0);
                }
            }
            Shape::Circle { middle, radius } => {
                extent.reach(middle.x as f32, middle.y as f32, *radius as f32 + 1.0);
            }
            Shape::Text {
                at,
                anchor,
                size,
                is_bold,
                text,
            } => {
                let span = if *is_bold { bold(text) } else { plain(text) };
                let set = setter.set_unbroken(&[span], *size as f32);
                let left = at.x as f32 - set.width() * before(*anchor);
                let top = at.y as f32 - set.first_baseline();
                extent.reach(left, top, 0.0);
                extent.reach(left + set.width(), top + set.height(), 0.0);
            }
        }
    }
    extent
}

impl Extent {
    fn size(&self) -> (f32, f32) {
        let (wide, high) = (self.right - self.left, self.bottom - self.top);
        (wide.max(1.0), high.max(1.0))
    }

    fn reach(&mut self, x: f32, y: f32, around: f32) {
        self.left = self.left.min(x - around);
        self.top = self.top.min(y - around);
        self.right = self.right.max(x + around);
        self.bottom = self.bottom.max(y + around);
    }
}

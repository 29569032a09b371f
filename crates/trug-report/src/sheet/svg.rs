//! A picture as SVG inside a page: presentation attributes only, so that it needs no style of its own.

use std::fmt::Write;

use maud::Render as _;

use super::picture::{Anchor, Picture, Point, Shape};
use crate::page::text::Text;

/// The picture as one element. The id must be the only one of its kind in the page.
#[must_use]
pub fn svg(picture: &Picture, id: &str) -> String {
    let (id, width, height) = (escaped(id), picture.width, picture.height);
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" \
aria-labelledby=\"{id}-title {id}-desc\" width=\"{width}pt\" height=\"{height}pt\" \
viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" direction=\"ltr\" \
fill=\"#000\" stroke=\"none\">\n\
<title id=\"{id}-title\">{}</title>\n\
<desc id=\"{id}-desc\">{}</desc>\n\
<defs><marker id=\"{id}-head\" viewBox=\"0 0 8 8\" refX=\"8\" refY=\"4\" markerWidth=\"8\" \
markerHeight=\"8\" markerUnits=\"userSpaceOnUse\" orient=\"auto\">\
<path d=\"M0 0.5 8 4 0 7.5Z\"/></marker></defs>\n\
<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n",
        escaped(&picture.title),
        escaped(&picture.description),
    );
    for shape in &picture.shapes {
        text.push_str(&drawn(shape, &id));
        text.push('\n');
    }
    text.push_str("</svg>\n");
    text
}

fn drawn(shape: &Shape, id: &str) -> String {
    match shape {
        Shape::Outline(points) => format!(
            "<path d=\"{}Z\" fill=\"#fff\" stroke=\"#000\" stroke-linejoin=\"round\"/>",
            way(points)
        ),
        Shape::Arrow(points) => format!(
            "<path d=\"{}\" fill=\"none\" stroke=\"#000\" marker-end=\"url(#{id}-head)\"/>",
            way(points)
        ),
        Shape::Circle {
            middle: Point { x, y },
            radius,
        } => format!(
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"#fff\" stroke=\"#000\" \
stroke-width=\"0.75\"/>"
        ),
        Shape::Text {
            at: Point { x, y },
            anchor,
            size,
            is_bold,
            text,
        } => {
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let weight = if *is_bold {
                " font-weight=\"bold\""
            } else {
                ""
            };
            format!(
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{weight}>\
{}</text>",
                escaped(text)
            )
        }
    }
}

/// `M10 20 30 40`; nothing for no points.
fn way(points: &[Point]) -> String {
    let mut way = String::new();
    for (rank, Point { x, y }) in points.iter().enumerate() {
        let before = if rank == 0 { "M" } else { " " };
        // Writing to a string cannot fail.
        let _ = write!(way, "{before}{x} {y}");
    }
    way
}

/// On one line, and nothing in it is markup.
fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    Text(&text.replace('\n', " ")).render_to(&mut escaped);
    escaped
}

//! The steps of mixing, numbered, each with what comes of it.

use crate::clean::glued;
use crate::form::Form;
use crate::piece::{Piece, Shade};
use crate::tags::{Kind, Tag, Tags};
use crate::text::{Setter, Side, bold, plain};
use trug_report::sheet::Steps;

/// Draws the steps under their heading.
pub(crate) fn steps(
    setter: &mut Setter,
    tags: &mut Tags,
    inside: Tag,
    steps: &Steps,
    form: &Form,
    width: f32,
) -> Piece {
    let heading = tags.within(inside, Kind::Heading);
    let set = setter.set(&[bold(&steps.heading)], form.heading, Side::Start, width);
    let mut piece = Piece::paragraph(&set, 0.0, Some(heading));
    let numbers: Vec<_> = steps
        .steps
        .iter()
        .map(|step| setter.set_unbroken(&[bold(&step.number.to_string())], form.step))
        .collect();
    let widest = numbers.iter().map(|number| number.width());
    let gutter = widest.fold(0.0, f32::max);
    let indent = gutter + form.step * 0.5;
    for (step, number) in steps.steps.iter().zip(numbers) {
        let tag = tags.within(inside, Kind::Paragraph);
        let mut spans = vec![plain(&step.text)];
        let output = step.output.as_deref().map(glued);
        if let Some(output) = &output {
            spans.extend([bold(" \u{2192}\u{A0}"), bold(output)]);
        }
        let set = setter.set(&spans, form.step, Side::Start, width - indent);
        let baseline = set.first_baseline().max(number.first_baseline());
        let mut line = Piece::new();
        let down = baseline - number.first_baseline();
        line.text(
            &number,
            gutter - number.width(),
            down,
            Shade::Black,
            Some(tag),
        );
        let down = baseline - set.first_baseline();
        line.text(&set, indent, down, Shade::Black, Some(tag));
        line.height = down + set.height() + form.pad * 0.5;
        piece.below(line);
    }
    piece
}

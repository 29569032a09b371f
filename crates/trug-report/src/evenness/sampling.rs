//! Where to take samples and how to make each small, for a person with a scoop.

use std::fmt::Write as _;

use maud::{Markup, PreEscaped, html};
use trug_evenness::places::{KEPT_G, rows};
use trug_evenness::{BAG_KG, Sampling};
use trug_findings::Source;
use trug_model::Q;

use super::html::STYLE;
use super::words::{against, wanted_by};
use crate::findings::{file_name, start_of};
use crate::page::still::still_page;
use crate::page::text::Text;
use crate::words::{count, hanging, mass, printable};

/// Narrower than this no sentence reads.
const LEAST_WIDTH: usize = 60;
/// What the advice rests on.
const PRACTICE: &str = "Common practice of the trade, without a published source but for this: at least ten samples of \
    about 100 g each, at equal intervals (World Food Programme, Food Quality and Safety).";

/// A part of the advice: its heading, sentences, and steps or places in their order.
struct Part {
    heading: String,
    says: Vec<String>,
    steps: Vec<String>,
}

/// Where samples of these rations are taken, as a page of text.
#[must_use]
pub fn sampling_text(all: &[(Sampling, &[Source])], width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let mut sections = Vec::new();
    for (sampling, sources) in all {
        let mut text = hanging("", &title(sampling, sources), width);
        for part in parts(sampling) {
            text.push('\n');
            text.push_str(&hanging("", &part.heading, width));
            for sentence in &part.says {
                text.push_str(&hanging("  ", sentence, width));
            }
            for (rank, step) in part.steps.iter().enumerate() {
                text.push_str(&hanging(&format!("  {}. ", rank + 1), step, width));
            }
        }
        sections.push(text);
    }
    sections.push(hanging("", PRACTICE, width));
    printable(&sections.join("\n")).into_owned()
}

/// The same as one HTML file that needs nothing else, with a picture of the heap.
#[must_use]
pub fn sampling_html(all: &[(Sampling, &[Source])]) -> String {
    let heading = match all {
        [(only, _)] => format!("{} of {}", samples(only), only.ration),
        _ => "Where to take samples".to_owned(),
    };
    let content = html! {
        @for (sampling, sources) in all {
            article {
                h1 { (Text(&title(sampling, sources))) }
                figure { (heap(sampling)) }
                @for part in parts(sampling) {
                    section {
                        h2 { (Text(&part.heading)) }
                        @for sentence in &part.says { p { (Text(sentence)) } }
                        @if !part.steps.is_empty() { ol { @for step in &part.steps { li { (Text(step)) } } } }
                    }
                }
            }
        }
        p.about { (PRACTICE) }
    };
    still_page(&heading, STYLE, &content)
}

fn samples(sampling: &Sampling) -> String {
    count(sampling.samples, "sample", "samples")
}

fn title(sampling: &Sampling, sources: &[Source]) -> String {
    let file = file_name(sampling.place, sources);
    let line = start_of(sampling.place, sources).line;
    let batch = sampling.batch.as_ref().map_or_else(String::new, |batch| {
        format!(", a batch of {}", mass(&(batch * &Q::int(1000))))
    });
    format!(
        "Where to take {} of {}{batch} ({file}:{line})",
        samples(sampling),
        sampling.ration
    )
}

fn parts(sampling: &Sampling) -> Vec<Part> {
    vec![
        before(sampling),
        from_the_heap(sampling),
        from_bags(sampling),
        from_the_trough(sampling),
        how_much(sampling),
        can_tell(sampling),
    ]
}

fn before(sampling: &Sampling) -> Part {
    let last = sampling.samples;
    Part {
        heading: "Before".to_owned(),
        says: vec![
            format!(
                "Number clean bags 1 to {last}. Take the samples after the last turn, from one batch, all in one of the \
                 three ways below."
            ),
            "Ask the laboratory for something that comes from a small ingredient and that it finds well, and for the \
             standard deviation of its assay."
                .to_owned(),
        ],
        steps: Vec::new(),
    }
}

fn from_the_heap(sampling: &Sampling) -> Part {
    let shape = rows(sampling.samples);
    let row = |(rank, fields): (usize, &usize)| {
        let mine = sampling.places.iter().filter(|place| place.row == rank + 1);
        let mine: Vec<_> = mine.collect();
        let (Some(first), Some(last)) = (mine.first(), mine.last()) else {
            return String::new();
        };
        let along: Vec<String> = mine.iter().map(|place| place.along.readable(2)).collect();
        format!(
            "row {}, {} across: {}, samples {} to {} at {} % of the length",
            rank + 1,
            percent(&first.across),
            count(*fields, "field", "fields"),
            first.number,
            last.number,
            along.join(", ")
        )
    };
    Part {
        heading: "From the heap".to_owned(),
        says: vec![format!(
            "Spread it to an even bed, and cut that into {} fields of like size. Take each sample from the middle of \
                 its field, through the whole depth down to the floor.",
            sampling.samples
        )],
        steps: shape.iter().enumerate().map(row).collect(),
    }
}

fn from_bags(sampling: &Sampling) -> Part {
    let rule = "Number the bags in the order they are filled. Push the scoop in deep: where several samples fall to one \
                bag, one is taken high, one in the middle, one low.";
    let where_to = match sampling.bags {
        None => format!(
            "With one bag for each sample, or more, take them evenly from first to last; with fewer, take as many from \
             each as it needs to come to {}.",
            sampling.samples
        ),
        Some(bags) => {
            let numbers: Vec<String> = sampling.in_bags.iter().map(usize::to_string).collect();
            format!(
                "The batch fills {} of {BAG_KG} kg; take samples 1 to {} from bags {}.",
                count(bags, "bag", "bags"),
                sampling.samples,
                numbers.join(", ")
            )
        }
    };
    Part {
        heading: "Or from bags".to_owned(),
        says: vec![rule.to_owned(), where_to],
        steps: Vec::new(),
    }
}

fn from_the_trough(sampling: &Sampling) -> Part {
    let along = sampling.places.iter();
    let along: Vec<String> = along.map(|place| place.through.readable(3)).collect();
    let vessel = sampling.vessel.as_ref().map_or_else(
        || "as a vessel is emptied".to_owned(),
        |vessel| format!("as {vessel} is emptied"),
    );
    Part {
        heading: format!("Or along the trough, or {vessel}"),
        says: vec![format!(
            "At {} % of its length, or of what runs out. Take the whole depth, or the whole stream for a moment.",
            along.join(", ")
        )],
        steps: Vec::new(),
    }
}

fn how_much(sampling: &Sampling) -> Part {
    let portion = &sampling.portion;
    let mut says = vec![format!(
        "Take about {} g at each place. The samples are never mixed with each other.",
        portion.taken_g
    )];
    if portion.is_much {
        says.push(
            "Together that is more than half of the batch: take fewer samples, or ask the laboratory how little it needs."
                .to_owned(),
        );
    }
    if portion.halvings == 0 {
        says.push("The batch is small, so each goes whole into its bag.".to_owned());
        return Part {
            heading: "How much".to_owned(),
            says,
            steps: Vec::new(),
        };
    }
    let times = match portion.halvings {
        1 => "once".to_owned(),
        more => format!("{more} times"),
    };
    says.push(format!(
        "Cone and quarter each {times}, until about {KEPT_G} g of it are left:"
    ));
    let steps = [
        "Pour it on a clean sheet into a cone, always onto the top.",
        "Press the cone flat from above to a round cake.",
        "Cut the cake through its middle into four quarters.",
        "Take two opposite quarters away whole, dust and fines with them, back to the batch.",
        "Mix the other two, and begin again or fill them into the bag of that number, dust and all.",
    ];
    Part {
        heading: "How much, and how to make it less".to_owned(),
        says,
        steps: steps.map(str::to_owned).to_vec(),
    }
}

fn can_tell(sampling: &Sampling) -> Part {
    let mut says = Vec::new();
    match (&sampling.wanted, &sampling.reach) {
        (Some(wanted), Some(reach)) => says.push(format!(
            "Wanted is a CV of {}. One found up to {} % will show the batch even, one above {} % uneven; in between they \
             cannot tell, and more samples are needed.",
            wanted_by(wanted),
            against(reach.even_up_to, &wanted.percent),
            against(reach.uneven_above, &wanted.percent)
        )),
        _ => says.push(format!(
            "How even {} is to be is not known while it or its method has errors.",
            sampling.ration
        )),
    }
    says.push(
        "Write what was found into the record of the batch, all in one line: sampled, what was measured, its numbers, \
         their unit, and assay with its standard deviation."
            .to_owned(),
    );
    Part {
        heading: format!("What {} can tell", samples(sampling)),
        says,
        steps: Vec::new(),
    }
}

fn percent(value: &Q) -> String {
    format!("{} %", value.readable(2))
}

/// Width and height of the picture of the heap.
const WIDTH: i64 = 640;
const HEIGHT: i64 = 320;
/// More numbers than this cannot be read in the picture.
const MOST_NUMBERS: usize = 150;

/// The spread heap from above, its fields, and a dot where each sample is taken.
fn heap(sampling: &Sampling) -> Markup {
    let mut shapes = format!(
        "<rect x=\"1\" y=\"1\" width=\"{}\" height=\"{}\" fill=\"#fff\" stroke=\"#000\" stroke-width=\"2\"/>",
        WIDTH - 2,
        HEIGHT - 2
    );
    let point = |part: &Q, of: i64| (part * &Q::ratio(of, 100)).round_half_even();
    let all = i64::try_from(sampling.samples.max(1)).unwrap_or(1);
    let mut before = 0;
    for fields in rows(sampling.samples) {
        let fields = i64::try_from(fields).unwrap_or(0);
        let (top, bottom) = (before * HEIGHT / all, (before + fields) * HEIGHT / all);
        for field in 0..fields {
            let (left, right) = (field * WIDTH / fields, (field + 1) * WIDTH / fields);
            push(
                &mut shapes,
                format_args!(
                    "<rect x=\"{left}\" y=\"{top}\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"0.75\"/>",
                    right - left,
                    bottom - top
                ),
            );
        }
        before += fields;
    }
    for place in &sampling.places {
        let (x, y) = (point(&place.along, WIDTH), point(&place.across, HEIGHT));
        push(
            &mut shapes,
            format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"3\"/>"),
        );
        if sampling.samples <= MOST_NUMBERS {
            push(
                &mut shapes,
                format_args!(
                    "<text x=\"{}\" y=\"{y}\" dy=\"4\">{}</text>",
                    &x + &Q::int(6),
                    place.number
                ),
            );
        }
    }
    PreEscaped(format!(
        "<svg class=\"chart\" role=\"img\" aria-label=\"The spread heap from above, with its fields\" width=\"{WIDTH}\" \
         height=\"{HEIGHT}\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" font-size=\"12\" direction=\"ltr\" fill=\"#000\">{shapes}</svg>"
    ))
}

fn push(shapes: &mut String, shape: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = shapes.write_fmt(shape);
}

//! A farm by the river with something to say about it.

use trug_findings::{Acceptance, Code, FileId, Finding, Place, Severity, Source, Span};
use trug_report::findings::Style;

/// A code with a page like the real ones.
pub(crate) static CEILING: Code =
    Code::error("harm/ceiling", include_str!("pages/harm-ceiling.md"));
/// A code that can be accepted.
pub(crate) static DOSE: Code =
    Code::warning("dose/over", "# dose/over\n\nMore than the label says.\n");
/// A code with a fix.
pub(crate) static OVER: Code = Code::error("sum/over", "# sum/over\n\nThe lines are too much.\n");
/// A code that informs.
pub(crate) static OPEN: Code = Code::note("amount/open", "# amount/open\n\nStill to be chosen.\n");

const RATION: &str = "\
use \"../store/amino.trug\"
use book poultry

ration river-layer \"River layer mash\"
  for            laying-duck
  batch          120 kg
  broken-rice    46 %
  rice-bran      31.5 %
  lysine-hcl     12 kg/t
  soya-meal      12 .. 24 %
  කැඩුනු-සහල්\t 24 %   # bought in the village, price to be asked for again before the rains come
";

const STORE: &str = "\
ingredient lysine-hcl \"L-lysine HCl\"
  lysine         78.8 %
  dose           0.2 .. 4 g/kg
  ceiling        10 g/kg \"Upsets the balance of amino acids.\"
";

const BOOK: &str = "\
animal duck \"Duck\"
animal laying-duck is duck \"Laying duck\"
";

/// The texts: a ration, the store it uses, and a book.
pub(crate) fn sources() -> Vec<Source> {
    vec![
        Source::new("rations/river.trug", RATION),
        Source::new("store/amino.trug", STORE),
        Source::new("book:poultry", BOOK),
    ]
}

/// The place of the first `piece` in a text.
pub(crate) fn place(sources: &[Source], file: usize, piece: &str) -> Place {
    let start = sources[file].text().find(piece).unwrap();
    let span = Span::new(start, start + piece.len());
    Place::new(FileId(u32::try_from(file).unwrap()), span)
}

/// The five findings: one of each severity, one with places elsewhere, one accepted.
pub(crate) fn findings(sources: &[Source]) -> Vec<Finding> {
    let at = |file, piece| place(sources, file, piece);
    let mut accepted = DOSE
        .at(at(0, "12 kg/t"))
        .says("lysine-hcl is 12 g/kg of the mix; its dose is 0.2 .. 4 g/kg");
    accepted.accepted = Some(Acceptance {
        reason: "vet's order 14 of 2026-11-02".to_owned(),
        place: at(0, "12 kg/t"),
    });
    vec![
        CEILING
            .at(at(0, "12 kg/t"))
            .says("lysine-hcl is 12 g/kg of the mix; its ceiling is 10 g/kg")
            .label("12 kg/t is 12 g/kg: 1.44 kg in the batch of 120 kg")
            .also(at(1, "10 g/kg"), "the ceiling is set here")
            .also(at(2, "laying-duck"), "for this animal")
            .help("keep to the label's dose: 0.2 .. 4 kg/t is 24 g to 480 g in this batch, and that is a spoon's worth"),
        accepted,
        OVER.at(at(0, "river-layer"))
            .says("river-layer adds up to 101.5 %: 1.5 % too much")
            .also(at(0, "46 %"), "44.5 % here would close it")
            .help("write `rest` on one line: it takes up what the others leave")
            .offer("make broken-rice 44.5 %", at(0, "46 %"), "44.5 %"),
        OPEN.at(at(0, "12 .. 24 %"))
            .says("soya-meal is still to be chosen")
            .help("run `trug balance rations/river.trug` to choose it at least cost"),
        OVER.at(at(0, "24 %   #"))
            .weighing(Severity::Warning)
            .says("කැඩුනු-සහල් is bought in")
            .label("this much"),
    ]
}

/// A page without colour.
pub(crate) fn page(width: usize, ascii: bool) -> Style {
    Style {
        width,
        color: false,
        ascii,
    }
}

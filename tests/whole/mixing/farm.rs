//! The batch that is mixed: a quarter of a tonne of duck feed with five small ingredients, the least of them 48 g.

use serde_json::Value;
use trug_plan::Request;
use trug_tests::answer;

use super::work::{Looked, Work};

const STORE: &str = "\
animal duck

scale letter 500 g by 0.1 g
scale kitchen 5 kg by 1 g
scale floor-scale 200 kg by 50 g

vessel cup 4 of 2 L
vessel bucket 4 of 12 L
vessel tub 2 of 150 L

ingredient broken-rice
  bulk-density   0.80 kg/L

ingredient rice-bran
  bulk-density   0.40 kg/L

ingredient soya-meal
  bulk-density   0.62 kg/L

ingredient sesame-cake
  bulk-density   0.58 kg/L

ingredient salt
  bulk-density   1.20 kg/L

ingredient vitamin-premix
  bulk-density   0.60 kg/L

ingredient methionine
  bulk-density   0.70 kg/L

ingredient toxin-binder
  bulk-density   0.80 kg/L

ingredient selenium-yeast
  bulk-density   0.60 kg/L

ration duck-mash
  for            duck
  batch          240 kg
  mix by         shovel
  broken-rice    46 %
  rice-bran      rest
  soya-meal      22 %
  sesame-cake    8 %
  salt           3 g/kg
  vitamin-premix 2.5 g/kg
  methionine     1.2 g/kg
  toxin-binder   1 g/kg
  selenium-yeast 0.2 g/kg

";

/// The method's figures that are varied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Method {
    /// The pre-blend's share of the batch, in percent.
    pub(super) preblend: u32,
    /// A step dilutes at most so many times.
    pub(super) dilutes: u32,
}

/// What the bundled methods say.
pub(super) const COMMON: Method = Method {
    preblend: 20,
    dilutes: 20,
};

/// How often a heap is turned, as the bundled method says.
pub(super) const TURNS: f64 = 6.0;

/// The least of the small ingredients: 0.2 mm wide, 1.2 g/mL, particles taken as balls.
pub(super) const SELENIUM: Looked = Looked {
    name: "selenium-yeast",
    particle_g: 1.2e-3 * std::f64::consts::PI / 6.0 * 0.2 * 0.2 * 0.2,
};

/// The plan of the batch by a method.
pub(super) fn plan(method: Method) -> Value {
    let text = format!(
        "{STORE}method shovel\n  small          below 3 %\n  pre-blend      {} %\n  step           at most 1 in {}\n  \
         weigh          within 2 %\n  floor          1000 kg\n  lift           25 kg\n  turn           6 times\n  \
         portions       4\n",
        method.preblend, method.dilutes
    );
    let texts = [("farm.trug", text.as_str())];
    let answer = answer::plan_in(&texts, "farm.trug", "duck-mash", &Request::default());
    answer
        .document
        .unwrap_or_else(|| panic!("{:?}", answer.findings))
}

pub(super) fn work(method: Method) -> Work {
    Work::of(&plan(method))
}

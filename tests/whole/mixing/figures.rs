//! The figures of the page, found by mixing, and what the page says of them.

use super::farm::{self, COMMON, Method, SELENIUM, TURNS};
use super::heap::Hand;
use super::picture::{Line, Panel, drawn};
use super::work::{Turns, Work, cv};

/// The hand the page speaks of: a third changes places, within an eighth of the heap either way.
const HAND: Hand = Hand {
    exchange: 1.0 / 3.0,
    reach: 0.125,
};

/// The evenness wanted by the bundled method, in percent.
const WANTED: f64 = 10.0;

const EXCHANGES: [(&str, f64); 3] = [
    ("a fifth", 1.0 / 5.0),
    ("a third", 1.0 / 3.0),
    ("a half", 1.0 / 2.0),
];
const REACHES: [(&str, f64); 2] = [("anywhere", 0.5), ("within an eighth of the heap", 0.125)];
const TURNED: [f64; 7] = [2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0];
const DILUTES: [u32; 6] = [2, 3, 5, 10, 20, 50];
const SHARES: [u32; 7] = [1, 2, 5, 10, 20, 30, 50];

/// CVs of portions in percent, of as much lifted.
pub(super) struct Figures {
    /// By the hand: as planned, all at once, and that without what mixing the heap alone lifts.
    by_hand: Vec<(Hand, [f64; 3])>,
    /// By how often each step is turned: as planned, and all at once.
    by_turns: Vec<(f64, [f64; 2])>,
    /// By the greatest dilution in one step, with the number of steps.
    by_dilution: Vec<(u32, usize, f64)>,
    /// By the share of the pre-blend.
    by_share: Vec<(u32, f64)>,
    /// As planned, with the mixes before the pre-blend turned twice as often.
    small_twice: f64,
    /// Particles in a portion, and the CV they leave at best.
    particles: f64,
}

/// All at once, turned so often that as much is lifted as in so many turns of the plan; with what the heap alone takes, or not.
fn at_once(plan: &Work, turns: f64, with_heap: bool, hand: Hand) -> f64 {
    let once = plan.at_once();
    let heap = plan.steps.iter().filter(|step| step.kind == "heap");
    let heap_g: f64 = heap.map(|step| step.output_g).sum();
    let lifted = plan.once_g() - if with_heap { 0.0 } else { heap_g };
    cv(once.unevenness(
        &SELENIUM,
        &Turns::each(turns * lifted / once.once_g()),
        hand,
    ))
}

fn planned(plan: &Work, turns: f64, hand: Hand) -> f64 {
    cv(plan.unevenness(&SELENIUM, &Turns::each(turns), hand))
}

/// By another method, with as much lifted as by the common one.
fn by(method: Method, lifted: f64) -> (usize, f64) {
    let plan = farm::work(method);
    (
        plan.steps.len(),
        planned(&plan, lifted / plan.once_g(), HAND),
    )
}

impl Figures {
    pub(super) fn found() -> Figures {
        let plan = farm::work(COMMON);
        let lifted = TURNS * plan.once_g();
        let hands = EXCHANGES.into_iter();
        let hands =
            hands.flat_map(|(_, exchange)| REACHES.map(|(_, reach)| Hand { exchange, reach }));
        let of_hand = |hand: Hand| {
            let all = [true, false].map(|with_heap| at_once(&plan, TURNS, with_heap, hand));
            (hand, [planned(&plan, TURNS, hand), all[0], all[1]])
        };
        let particles = super::work::PORTION_G * 0.2e-3 / SELENIUM.particle_g;
        let small_twice = Turns {
            each: TURNS,
            small: 2.0,
        };
        Figures {
            by_hand: hands.map(of_hand).collect(),
            by_turns: TURNED
                .into_iter()
                .map(|turns| {
                    (
                        turns,
                        [
                            planned(&plan, turns, HAND),
                            at_once(&plan, turns, true, HAND),
                        ],
                    )
                })
                .collect(),
            by_dilution: DILUTES
                .into_iter()
                .map(|dilutes| {
                    let (steps, cv) = by(Method { dilutes, ..COMMON }, lifted);
                    (dilutes, steps, cv)
                })
                .collect(),
            // Of a small pre-blend the last step dilutes more than the common method lets it.
            by_share: SHARES
                .into_iter()
                .map(|preblend| {
                    let dilutes = COMMON.dilutes.max(100 / preblend);
                    (preblend, by(Method { preblend, dilutes }, lifted).1)
                })
                .collect(),
            small_twice: cv(plan.unevenness(&SELENIUM, &small_twice, HAND)),
            particles,
        }
    }

    fn common(&self) -> [f64; 3] {
        self.by_hand
            .iter()
            .find(|(hand, _)| *hand == HAND)
            .unwrap()
            .1
    }

    fn of_dilution(&self, wanted: u32) -> f64 {
        self.by_dilution
            .iter()
            .find(|(dilutes, ..)| *dilutes == wanted)
            .unwrap()
            .2
    }

    fn of_share(&self, wanted: u32) -> f64 {
        self.by_share
            .iter()
            .find(|(share, _)| *share == wanted)
            .unwrap()
            .1
    }

    /// What the page says in words.
    pub(super) fn hold(&self) {
        let [planned, at_once, without_heap] = self.common();
        assert!(
            3.0 * planned < at_once && 8.0 * planned < without_heap,
            "{planned} {at_once} {without_heap}"
        );
        for (hand, [planned, at_once, without_heap]) in &self.by_hand {
            let is_the_best_hand = *hand == super::PERFECT;
            assert!(
                planned < at_once || is_the_best_hand,
                "{hand:?}: {planned} {at_once}"
            );
            assert!(
                4.0 * planned < *without_heap,
                "{hand:?}: {planned} {without_heap}"
            );
        }
        for (turns, [planned, at_once]) in &self.by_turns {
            assert!(planned < at_once, "{turns}: {planned} {at_once}");
        }
        // A pre-blend of a tenth or less is far worse, one of 30 % a little better, one of a half no better than a fifth.
        assert!(
            self.of_share(10) > 1.3 * self.of_share(20)
                && self.of_share(5) > 2.0 * self.of_share(20)
        );
        assert!(self.of_share(30) > 0.7 * self.of_share(20));
        assert!(self.of_share(50) > 0.9 * self.of_share(20));
        // Between 1 in 5 and 1 in 20 it makes little difference, over that some.
        assert!((self.of_dilution(5) / self.of_dilution(20) - 1.0).abs() < 0.15);
        assert!(self.of_dilution(50) > 1.1 * self.of_dilution(20));
        assert!(self.small_twice < planned);
        assert!(100.0 / self.particles.sqrt() < 2.0);
    }

    /// The page with these figures between its marks.
    pub(super) fn put_into(&self, page: &str) -> String {
        let mut page = page.to_owned();
        for (name, table) in [
            ("hands", self.hands()),
            ("steps", self.steps()),
            ("shares", self.shares()),
            ("limits", self.limits()),
        ] {
            let (from, to) = (format!("<!-- figures: {name} -->\n"), "<!-- end -->");
            let (before, after) = page.split_once(&from).unwrap();
            let (_, after) = after.split_once(to).unwrap();
            page = format!("{before}{from}{table}{to}{after}");
        }
        page
    }

    fn hands(&self) -> String {
        let mut table = "| of what meets changes places | a shovelful falls | as planned | all at once, as much lifted | all at \
                         once, without what the heap alone takes |\n|---|---|---|---|---|\n"
            .to_owned();
        for (hand, [planned, at_once, without_heap]) in &self.by_hand {
            let part = EXCHANGES
                .iter()
                .find(|(_, exchange)| *exchange == hand.exchange)
                .unwrap()
                .0;
            let falls = REACHES
                .iter()
                .find(|(_, reach)| *reach == hand.reach)
                .unwrap()
                .0;
            table += &format!(
                "| {part} | {falls} | {planned:.0} % | {at_once:.0} % | {without_heap:.0} % |\n"
            );
        }
        table
    }

    fn steps(&self) -> String {
        let mut table =
            "| a step dilutes at most | steps | CV of portions |\n|---|---|---|\n".to_owned();
        for (dilutes, steps, cv) in &self.by_dilution {
            table += &format!("| 1 in {dilutes} | {steps} | {cv:.0} % |\n");
        }
        table
    }

    fn shares(&self) -> String {
        let mut table = "| pre-blend | CV of portions |\n|---|---|\n".to_owned();
        for (share, cv) in &self.by_share {
            table += &format!("| {share} % of the batch | {cv:.0} % |\n");
        }
        table
    }

    fn limits(&self) -> String {
        format!(
            "Turned twice as often in the pre-blend and all before it: {:.0} % instead of {:.0} %. A portion holds some {:.0}\nparticles of \
             it; were they mixed at random, portions would still vary by {:.1} %.\n",
            self.small_twice,
            self.common()[0],
            self.particles,
            100.0 / self.particles.sqrt()
        )
    }

    pub(super) fn picture(&self) -> String {
        let spaced = |rank: usize, of: usize| rank as f64 / (of - 1) as f64;
        let most = TURNED[TURNED.len() - 1];
        let curve = |rank: usize| {
            self.by_turns
                .iter()
                .map(|(turns, cvs)| (turns / most, cvs[rank]))
                .collect()
        };
        let line = |what: &str, dash, width, points, dots| Line {
            what: what.to_owned(),
            dash,
            width,
            points,
            dots,
        };
        let dilutions = self.by_dilution.iter().enumerate();
        let dilutions = dilutions.map(|(rank, (_, _, cv))| (spaced(rank, DILUTES.len()), *cv));
        let shares = self.by_share.iter().enumerate();
        let shares = shares.map(|(rank, (_, cv))| (spaced(rank, SHARES.len()), *cv));
        let panels = [
            Panel {
                from: 60.0,
                to: 340.0,
                title: "CV of portions by how much is lifted",
                below: "turns of each step, or as much lifted",
                marks: TURNED
                    .iter()
                    .map(|turns| (turns / most, format!("{turns:.0}")))
                    .collect(),
                lines: vec![
                    line("all at once", "6 4", 1.5, curve(1), false),
                    line("as planned", "none", 2.5, curve(0), false),
                ],
            },
            Panel {
                from: 400.0,
                to: 600.0,
                title: "By the dilution in one step",
                below: "at most 1 in",
                marks: DILUTES
                    .iter()
                    .enumerate()
                    .map(|(rank, it)| (spaced(rank, DILUTES.len()), it.to_string()))
                    .collect(),
                lines: vec![line("", "none", 1.0, dilutions.collect(), true)],
            },
            Panel {
                from: 660.0,
                to: 860.0,
                title: "By the share of the pre-blend",
                below: "% of the batch",
                marks: SHARES
                    .iter()
                    .enumerate()
                    .map(|(rank, it)| (spaced(rank, SHARES.len()), it.to_string()))
                    .collect(),
                lines: vec![line("", "none", 1.0, shares.collect(), true)],
            },
        ];
        drawn("How even a batch becomes, by simulation", WANTED, &panels)
    }
}

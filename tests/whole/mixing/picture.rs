//! The picture of the page: curves on a scale of work, and points on a scale of what is varied.

use std::fmt::Write as _;

/// Size of the whole.
const WIDTH: f64 = 880.0;
const HEIGHT: f64 = 340.0;
/// The plain of the first panel; the others are as high.
const TOP: f64 = 40.0;
const BOTTOM: f64 = 290.0;

/// Percent at the foot and at the head of every panel.
const LEAST: f64 = 1.0;
const MOST: f64 = 1_000.0;

/// A run of points, and how it is drawn.
pub(super) struct Line {
    pub(super) what: String,
    pub(super) dash: &'static str,
    pub(super) width: f64,
    /// Where on the panel, from 0 to 1, and how many percent.
    pub(super) points: Vec<(f64, f64)>,
    pub(super) dots: bool,
}

/// One panel, from one place to another across the picture.
pub(super) struct Panel {
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) title: &'static str,
    pub(super) below: &'static str,
    /// Marks below it: where, and what they say.
    pub(super) marks: Vec<(f64, String)>,
    pub(super) lines: Vec<Line>,
}

/// How high a CV lies: a step up is ten times as much.
fn height(percent: f64) -> f64 {
    let way = libm::log10(percent.clamp(LEAST, MOST) / LEAST) / libm::log10(MOST / LEAST);
    BOTTOM - way * (BOTTOM - TOP)
}

/// The picture. Each line bears its name beside it, so that no colour is needed.
pub(super) fn drawn(title: &str, wanted: f64, panels: &[Panel]) -> String {
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{WIDTH}\" height=\"{HEIGHT}\" viewBox=\"0 0 {WIDTH} \
         {HEIGHT}\" font-family=\"sans-serif\" font-size=\"12\" fill=\"#000\">\n<title>{title}</title>\n\
         <rect width=\"{WIDTH}\" height=\"{HEIGHT}\" fill=\"#fff\"/>\n"
    );
    for panel in panels {
        panel.draw(wanted, &mut svg);
    }
    svg.push_str("</svg>\n");
    svg
}

impl Panel {
    fn across(&self, way: f64) -> f64 {
        self.from + way * (self.to - self.from)
    }

    fn draw(&self, wanted: f64, svg: &mut String) {
        let (from, to) = (self.from, self.to);
        let _ = writeln!(
            svg,
            "<text x=\"{from:.0}\" y=\"20\" font-weight=\"bold\">{}</text>",
            self.title
        );
        for percent in [1.0, 10.0, 100.0, 1_000.0] {
            let y = height(percent);
            let _ = writeln!(
                svg,
                "<path d=\"M{from:.1} {y:.1}H{to:.1}\" stroke=\"#ccc\"/><text x=\"{:.1}\" y=\"{:.1}\" \
                 text-anchor=\"end\">{percent:.0} %</text>",
                from - 6.0,
                y + 4.0
            );
        }
        let y = height(wanted);
        let _ = writeln!(
            svg,
            "<path d=\"M{from:.1} {y:.1}H{to:.1}\" stroke=\"#000\" stroke-width=\"0.7\" stroke-dasharray=\"1 3\"/>"
        );
        for (way, says) in &self.marks {
            let x = self.across(*way);
            let _ = writeln!(
                svg,
                "<path d=\"M{x:.1} {BOTTOM}v5\" stroke=\"#000\"/><text x=\"{x:.1}\" y=\"{:.0}\" \
                 text-anchor=\"middle\">{says}</text>",
                BOTTOM + 18.0
            );
        }
        let _ = writeln!(
            svg,
            "<text x=\"{:.1}\" y=\"{:.0}\" text-anchor=\"middle\">{}</text>",
            f64::midpoint(from, to),
            BOTTOM + 38.0,
            self.below
        );
        for line in &self.lines {
            self.line(line, svg);
        }
    }

    fn line(&self, line: &Line, svg: &mut String) {
        let places: Vec<(f64, f64)> = line
            .points
            .iter()
            .map(|(way, percent)| (self.across(*way), height(*percent)))
            .collect();
        let way: Vec<String> = places
            .iter()
            .map(|(x, y)| format!("{x:.1} {y:.1}"))
            .collect();
        let _ = writeln!(
            svg,
            "<path d=\"M{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\" stroke-dasharray=\"{}\"/>",
            way.join("L"),
            line.width,
            line.dash
        );
        if line.dots {
            for (x, y) in &places {
                let _ = writeln!(svg, "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"3.5\"/>");
            }
        }
        // Its name stands beside its middle bend, above: curves that fall leave that free.
        let middle = places.get(places.len() / 2);
        if let Some((x, y)) = middle.filter(|_| !line.what.is_empty()) {
            let _ = writeln!(
                svg,
                "<text x=\"{:.1}\" y=\"{:.1}\">{}</text>",
                x + 6.0,
                y - 6.0,
                line.what
            );
        }
    }
}

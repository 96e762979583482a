//! The curve of what was still possible, as a drawing for a page.

use std::fmt::Write;

use crate::marks::Debrief;
use crate::reasoning::Account;

/// Writing to a string does not fail.
const NEVER: &str = "a string takes what it is given";
/// The drawing, and the field of the curves in it, in its own units.
const WIDTH: f64 = 760.0;
const HEIGHT: f64 = 300.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 740.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 252.0;

/// A line of steps through (minutes, bits): level until each point, then down or up to it.
fn steps(points: &[(f64, f64)], at: impl Fn(f64, f64) -> (f64, f64)) -> String {
    let mut path = String::new();
    for (n, &(minutes, bits)) in points.iter().enumerate() {
        let (x, y) = at(minutes, bits);
        if n == 0 {
            write!(path, "M{x:.1} {y:.1}").expect(NEVER);
        } else {
            write!(path, "H{x:.1}V{y:.1}").expect(NEVER);
        }
    }
    path
}

/// A round step of an axis that gives some five marks up to `most`.
fn mark_every(most: f64) -> f64 {
    let mut step = 0.5;
    for factor in [2.0, 2.0, 2.5].into_iter().cycle().take(15) {
        if most / step <= 6.0 {
            break;
        }
        step *= factor;
    }
    step
}

/// The learner's curve and the plan's.
pub(super) fn svg(account: &Account, debrief: &Debrief) -> String {
    let yours: Vec<(f64, f64)> = std::iter::once((0.0, account.before.bits))
        .chain(account.stretches.iter().map(|stretch| (stretch.clock_minutes, stretch.after.bits)))
        .collect();
    let plan: Vec<(f64, f64)> = debrief.plan.iter().map(|point| (point.minutes, point.bits)).collect();
    let all = || yours.iter().chain(&plan);
    let most_minutes = all().map(|point| point.0).fold(1.0, f64::max);
    let most_bits = all().map(|point| point.1).fold(0.5, f64::max);
    let at = |minutes: f64, bits: f64| {
        (LEFT + (RIGHT - LEFT) * minutes / most_minutes, BOTTOM - (BOTTOM - TOP) * bits / most_bits)
    };
    let mut svg = format!(
        "<svg viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" aria-label=\"What was still possible, in bits, over minutes\" font-family=\"sans-serif\" font-size=\"13\">\n"
    );
    let every = mark_every(most_minutes);
    let mut minutes = 0.0;
    while minutes <= most_minutes {
        let (x, _) = at(minutes, 0.0);
        writeln!(
            svg,
            "<path d=\"M{x:.1} {TOP}V{BOTTOM}\" stroke=\"#d5dae1\"/><text x=\"{x:.1}\" y=\"{:.1}\" text-anchor=\"middle\" fill=\"#3c4654\">{minutes}</text>",
            BOTTOM + 18.0
        )
        .expect(NEVER);
        minutes += every;
    }
    let every = mark_every(most_bits);
    let mut bits = 0.0;
    while bits <= most_bits {
        let (_, y) = at(0.0, bits);
        writeln!(
            svg,
            "<path d=\"M{LEFT} {y:.1}H{RIGHT}\" stroke=\"#d5dae1\"/><text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\" fill=\"#3c4654\">{bits}</text>",
            LEFT - 8.0,
            y + 4.0
        )
        .expect(NEVER);
        bits += every;
    }
    writeln!(
        svg,
        "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\" fill=\"#1c2430\">minutes</text><text x=\"{LEFT}\" y=\"14\" text-anchor=\"middle\" fill=\"#1c2430\">bits</text>",
        0.5 * (LEFT + RIGHT),
        BOTTOM + 38.0
    )
    .expect(NEVER);
    for (points, name, colour, dashes, below) in [
        (&plan, "the plan", "#1d5c8a", " stroke-dasharray=\"7 5\"", 16.0),
        (&yours, "you", "#8a3b12", "", -8.0),
    ] {
        let (x, y) = points.last().map_or((LEFT, BOTTOM), |&(minutes, bits)| at(minutes, bits));
        writeln!(
            svg,
            "<path d=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2.5\"{dashes}/><text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\" fill=\"{colour}\" font-weight=\"bold\">{name}</text>",
            steps(points, at),
            x.max(LEFT + 60.0),
            y + below
        )
        .expect(NEVER);
    }
    svg.push_str("</svg>\n");
    svg
}

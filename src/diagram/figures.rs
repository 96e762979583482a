//! The shapes of symbols, after IEC 60617, about a middle point; leads come from above and go on below.

use super::block::Figure;
use super::primitive::{Spot, Stroke};

/// From an element's middle to the end of its leads.
pub(super) const REACH: f64 = 20.0;

fn line(points: &[(f64, f64)]) -> Stroke {
    Stroke::Line(points.iter().map(|&(x, y)| Spot::new(x, y)).collect())
}

fn dashes(points: &[(f64, f64)]) -> Stroke {
    Stroke::Dashes(points.iter().map(|&(x, y)| Spot::new(x, y)).collect())
}

fn shape(points: &[(f64, f64)]) -> Stroke {
    Stroke::Shape(points.iter().map(|&(x, y)| Spot::new(x, y)).collect())
}

fn circle(radius: f64) -> Stroke {
    Stroke::Circle { centre: Spot::new(0.0, 0.0), radius, filled: false }
}

fn rectangle(wide: f64, high: f64) -> Stroke {
    let (x, y) = (wide / 2.0, high / 2.0);
    line(&[(-x, -y), (x, -y), (x, y), (-x, y), (-x, -y)])
}

fn leads(from: f64) -> [Stroke; 2] {
    [line(&[(0.0, -REACH), (0.0, -from)]), line(&[(0.0, from), (0.0, REACH)])]
}

/// A shape moved to its place.
pub(super) fn moved(strokes: Vec<Stroke>, to: Spot) -> Vec<Stroke> {
    mapped(strokes, |spot| Spot::new(spot.x + to.x, spot.y + to.y))
}

/// A shape upside down.
fn upside_down(strokes: Vec<Stroke>) -> Vec<Stroke> {
    mapped(strokes, |spot| Spot::new(spot.x, -spot.y))
}

fn mapped(strokes: Vec<Stroke>, to: impl Fn(Spot) -> Spot) -> Vec<Stroke> {
    let all = |points: Vec<Spot>| points.into_iter().map(&to).collect();
    strokes
        .into_iter()
        .map(|stroke| match stroke {
            Stroke::Line(points) => Stroke::Line(all(points)),
            Stroke::Dashes(points) => Stroke::Dashes(all(points)),
            Stroke::Shape(points) => Stroke::Shape(all(points)),
            Stroke::Circle { centre, radius, filled } => {
                Stroke::Circle { centre: to(centre), radius, filled }
            }
        })
        .collect()
}

/// An element; `apart` is how far the second of two contacts stands to the right.
pub(super) fn element(figure: Figure, apart: f64) -> Vec<Stroke> {
    match figure {
        Figure::Lamp => {
            // The cross of a lamp touches its circle: a tenth of the square root of a half.
            let reach = 7.071;
            let cross =
                [line(&[(-reach, -reach), (reach, reach)]), line(&[(-reach, reach), (reach, -reach)])];
            [circle(10.0)].into_iter().chain(cross).chain(leads(10.0)).collect()
        }
        Figure::Led { reversed } => {
            let rays = [
                line(&[(6.0, -3.0), (12.0, -9.0), (9.0, -8.5)]),
                line(&[(12.0, -9.0), (11.5, -6.0)]),
                line(&[(6.0, 3.0), (12.0, -3.0), (9.0, -2.5)]),
                line(&[(12.0, -3.0), (11.5, 0.0)]),
            ];
            diode(reversed).into_iter().chain(rays).collect()
        }
        Figure::Diode { reversed } => diode(reversed),
        Figure::Resistor => [rectangle(9.0, 24.0)].into_iter().chain(leads(12.0)).collect(),
        Figure::Heater => {
            let rungs = [-6.0, 0.0, 6.0].map(|y| line(&[(-5.5, y), (5.5, y)]));
            [rectangle(11.0, 24.0)].into_iter().chain(rungs).chain(leads(12.0)).collect()
        }
        Figure::Motor => {
            let letter = line(&[(-4.0, 4.0), (-4.0, -4.0), (0.0, 2.0), (4.0, -4.0), (4.0, 4.0)]);
            [circle(10.0), letter].into_iter().chain(leads(10.0)).collect()
        }
        Figure::Solenoid => {
            let plunger = [line(&[(-3.0, 0.0), (3.0, 0.0)]), shape(&[(3.0, -3.0), (7.0, 0.0), (3.0, 3.0)])];
            [rectangle(22.0, 13.0)].into_iter().chain(plunger).chain(leads(6.5)).collect()
        }
        Figure::Coil { diode, resistor } => coil(diode, resistor),
        Figure::Switch { springs_back } => {
            let grip = if springs_back {
                line(&[(-9.0, -4.0), (-12.0, -4.0), (-12.0, 4.0), (-9.0, 4.0)])
            } else {
                line(&[(-12.0, -4.0), (-12.0, 4.0)])
            };
            make_contact().into_iter().chain([dashes(&[(-12.0, 0.0), (-4.0, 0.0)]), grip]).collect()
        }
        Figure::Contact => make_contact(),
        Figure::RelayContact { makes, breaks, flipped } => {
            let strokes = match (makes, breaks) {
                (_, false) => upside_down(make_contact()),
                (false, true) => vec![
                    line(&[(0.0, -REACH), (0.0, -8.0), (6.0, 10.0)]),
                    line(&[(0.0, REACH), (0.0, 8.0), (7.0, 8.0)]),
                ],
                (true, true) => vec![
                    line(&[(0.0, -REACH), (0.0, -8.0), (9.0, 9.0)]),
                    line(&[(0.0, REACH), (0.0, 8.0)]),
                    line(&[(apart, REACH), (apart, 7.0), (7.0, 7.0)]),
                ],
            };
            if flipped { upside_down(strokes) } else { strokes }
        }
    }
}

fn make_contact() -> Vec<Stroke> {
    vec![line(&[(0.0, -REACH), (0.0, -8.0)]), line(&[(-8.0, -7.0), (0.0, 8.0), (0.0, REACH)])]
}

fn diode(reversed: bool) -> Vec<Stroke> {
    let body = vec![
        shape(&[(-7.0, -6.0), (7.0, -6.0), (0.0, 6.0)]),
        line(&[(-7.0, 6.0), (7.0, 6.0)]),
        line(&[(0.0, -REACH), (0.0, REACH)]),
    ];
    if reversed { upside_down(body) } else { body }
}

/// A coil; what takes up its energy lies beside it, on the left.
fn coil(with_diode: bool, with_resistor: bool) -> Vec<Stroke> {
    let mut strokes = vec![rectangle(22.0, 13.0)];
    strokes.extend(leads(6.5));
    let left = -18.0;
    if with_diode || with_resistor {
        strokes.push(line(&[(0.0, -15.0), (left, -15.0), (left, -8.0)]));
        strokes.push(line(&[(left, 8.0), (left, 15.0), (0.0, 15.0)]));
    }
    if with_diode {
        strokes.push(line(&[(left, -8.0), (left, 8.0)]));
        strokes.push(shape(&[(left - 4.0, 4.0), (left + 4.0, 4.0), (left, -4.0)]));
        strokes.push(line(&[(left - 4.0, -4.0), (left + 4.0, -4.0)]));
    } else if with_resistor {
        let (l, r) = (left - 3.0, left + 3.0);
        strokes.push(line(&[(l, -8.0), (r, -8.0), (r, 8.0), (l, 8.0), (l, -8.0)]));
    }
    strokes
}

/// A fuse: a rectangle with the conductor through it.
pub(super) fn fuse(reach: f64) -> Vec<Stroke> {
    vec![rectangle(9.0, 24.0), line(&[(0.0, -reach), (0.0, reach)])]
}

/// Ground, at the end of a lead of this length.
pub(super) fn ground(lead: f64) -> Vec<Stroke> {
    let mut strokes = vec![line(&[(0.0, 0.0), (0.0, lead)])];
    for (at, half) in [11.0, 7.0, 3.0].into_iter().enumerate() {
        let y = lead + 4.0 * at as f64;
        strokes.push(line(&[(-half, y), (half, y)]));
    }
    strokes
}

/// A stud: a bolt seen from its end, with its lead from above.
pub(super) fn bolt(lead: f64) -> Vec<Stroke> {
    vec![
        Stroke::Circle { centre: Spot::new(0.0, lead), radius: 4.0, filled: false },
        Stroke::Circle { centre: Spot::new(0.0, lead), radius: 1.5, filled: true },
    ]
}

/// Two cells, from the plus post downwards.
pub(super) fn battery() -> Vec<Stroke> {
    let mut strokes = Vec::new();
    for y in [0.0, 10.0] {
        strokes.push(line(&[(-11.0, y), (11.0, y)]));
        strokes.push(shape(&[(-6.0, y + 4.0), (6.0, y + 4.0), (6.0, y + 6.0), (-6.0, y + 6.0)]));
    }
    strokes.push(dashes(&[(0.0, 6.0), (0.0, 10.0)]));
    strokes.push(line(&[(-17.0, -6.0), (-11.0, -6.0)]));
    strokes.push(line(&[(-14.0, -9.0), (-14.0, -3.0)]));
    strokes
}

/// A contact of a connector: the socket above, open downwards, and the pin in it.
pub(super) fn contact(socket_above: bool) -> Vec<Stroke> {
    let strokes = vec![
        line(&[(-4.0, 2.0), (-3.5, -1.0), (-2.0, -3.0), (0.0, -3.8), (2.0, -3.0), (3.5, -1.0), (4.0, 2.0)]),
        shape(&[(-1.3, -2.0), (1.3, -2.0), (1.3, 4.5), (-1.3, 4.5)]),
    ];
    if socket_above { strokes } else { upside_down(strokes) }
}

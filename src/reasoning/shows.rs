//! What an act showed, as evidence: facts that are so or not, and figures within what an eye or an instrument resolves.

use std::hash::{Hash, Hasher};
use std::mem::discriminant;

use crate::bench::{Accuracy, Answer, Display, Heard, Outcome, Reading, Recording, Seen};

/// Two lights look alike within this share of the brighter, and so much of full light (the eye of somebody who does not
/// compare side by side; common practice, no source).
const EYE: (f64, f64) = (0.15, 0.01);
/// Two figures of a display that moved look alike within this share, and so much in V, A or Ω: where its beat fell is
/// not known.
const MOVING: (f64, f64) = (0.5, 0.3);
/// Two strips of the recorder look alike within this share, and so much in V or A.
const STRIP: (f64, f64) = (0.05, 0.1);

/// Where there is no figure at all.
const FAR: f64 = 1e9;

/// A figure and how far another may be off it and still look the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The figure, in its own unit.
    pub value: f64,
    /// Half the width of what it cannot be told from, in the same unit.
    pub band: f64,
}

/// What an act showed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shows {
    /// All that is so or not, written one after another.
    facts: Vec<u8>,
    /// The figures that go with them, in order.
    figures: Vec<Figure>,
}

/// Keeps what is hashed instead of mixing it: two lists are equal exactly where the values were.
struct Kept<'a>(&'a mut Vec<u8>);

impl Hasher for Kept<'_> {
    fn write(&mut self, bytes: &[u8]) {
        self.0.extend_from_slice(bytes);
    }

    fn finish(&self) -> u64 {
        0
    }
}

impl Shows {
    /// What an outcome shows to eye, ear and instruments; `before` is what the meter showed until then.
    #[must_use]
    pub fn of(outcome: &Outcome, before: Option<Display>) -> Self {
        let mut shows = Self::default();
        shows.add(outcome, before);
        shows
    }

    /// Adds what another outcome shows.
    pub fn add(&mut self, outcome: &Outcome, before: Option<Display>) {
        self.fact(outcome.refused);
        // A reading that moves by little is told or not by a hair's breadth: by how much is what counts.
        let mut span = 0.0;
        for seen in &outcome.seen {
            match seen {
                Seen::ReadingMoved(
                    Display { value: Some(least), .. },
                    Display { value: Some(greatest), .. },
                ) => {
                    span = greatest - least;
                }
                _ => self.seen(seen),
            }
        }
        self.figure(span, MOVING);
        for heard in &outcome.heard {
            self.heard(heard);
        }
        if let Some(reading) = &outcome.reading {
            self.reading(reading, before);
        }
        if let Some(clamp) = &outcome.clamp {
            self.fact(b'c');
            self.display(clamp.now, Accuracy::CLAMP);
        }
        if let Some(recording) = &outcome.recording {
            self.recording(recording);
        }
    }

    /// Adds one figure of a display, and nothing else.
    pub fn add_display(&mut self, display: Display, accuracy: Accuracy) {
        self.display(display, accuracy);
    }

    /// Whether what was observed can be this prediction: the same facts, and each figure within the prediction's band.
    #[must_use]
    pub fn fits(&self, predicted: &Self) -> bool {
        self.facts == predicted.facts
            && self.figures.len() == predicted.figures.len()
            && self
                .figures
                .iter()
                .zip(&predicted.figures)
                .all(|(seen, meant)| (seen.value - meant.value).abs() <= meant.band.max(seen.band))
    }

    fn fact(&mut self, fact: impl Hash) {
        fact.hash(&mut Kept(&mut self.facts));
    }

    fn figure(&mut self, value: f64, (share, least): (f64, f64)) {
        self.figures.push(Figure { value, band: share * value.abs() + least });
    }

    fn display(&mut self, display: Display, accuracy: Accuracy) {
        self.fact((display.value.is_some(), display.unit));
        if let Some(value) = display.value {
            self.figure(value, (accuracy.share, accuracy.counts * display.count()));
        }
    }

    fn reading(&mut self, reading: &Reading, before: Option<Display>) {
        self.fact((reading.setting, reading.tone, reading.held.is_some()));
        let accuracy = reading.setting.accuracy();
        self.display(reading.now, accuracy);
        if let Some((least, greatest)) = reading.held {
            self.display(least, accuracy);
            self.display(greatest, accuracy);
        }
        // Ohms are worked out from a mean: part-way they show anything. On the way from one figure to another volts and
        // amps show anything between the two; what counts is how far they went beyond.
        if !reading.settling && !reading.setting.is_source() {
            let passed = reading.during.iter().map(|shown| shown.display);
            let values =
                || passed.clone().chain([reading.now]).chain(before).filter_map(|display| display.value);
            self.figure(values().fold(f64::INFINITY, f64::min).min(FAR), MOVING);
            self.figure(values().fold(f64::NEG_INFINITY, f64::max).max(-FAR), MOVING);
        }
    }

    fn recording(&mut self, recording: &Recording) {
        for strip in [&recording.volts, &recording.amps] {
            self.fact(strip.is_some());
            if let Some(strip) = strip {
                let (least, greatest) = strip.extremes(strip.begins(), strip.ends());
                self.figure(least, STRIP);
                self.figure(greatest, STRIP);
            }
        }
    }

    fn seen(&mut self, seen: &Seen) {
        self.fact(discriminant(seen));
        match seen {
            Seen::Lamp(part, light) | Seen::Flash(part, light) | Seen::Dip(part, light) => {
                self.fact(part);
                self.figure(*light, EYE);
            }
            Seen::TestLamp(size, light) => {
                self.fact(size);
                self.figure(*light, EYE);
            }
            Seen::Screen(part, heats) => {
                self.fact((part, heats.len()));
                for heat in heats {
                    self.figure(*heat, EYE);
                }
            }
            Seen::ReadingMoved(least, greatest) => {
                self.fact((least.value.is_some(), greatest.value.is_some()));
            }
            Seen::Turning(part, turns) => self.fact((part, turns)),
            Seen::LidSign(lit) => self.fact(lit),
            Seen::LidAt(degrees) => self.fact(degrees),
            Seen::Blinks(codes) => self.fact(codes),
            Seen::Fuse(fuse, look) => self.fact((fuse, look)),
            Seen::InstrumentFuseBlown(tool) => self.fact(tool),
            Seen::Terminals(connector, mated, looks) => self.fact((connector, mated, looks)),
            Seen::NotHome(connector) | Seen::WentHome(connector) => self.fact(connector),
            Seen::Tugged(connector, cavity, result) => self.fact((connector, cavity, result)),
            Seen::Loom(station, looks) => self.fact((station, looks)),
            Seen::Stud(stud, look) => self.fact((stud, look)),
            Seen::Panel(panel, off) => self.fact((panel, off)),
            Seen::Wet(wet) => self.fact(wet),
            Seen::Probe(lead, point) => self.fact((lead, point)),
            Seen::LidReleased
            | Seen::ClawOpened
            | Seen::PropOff
            | Seen::LidShut
            | Seen::LidOnFirstCatch
            | Seen::NoBlink
            | Seen::Done => {}
        }
    }

    fn heard(&mut self, heard: &Heard) {
        self.fact(discriminant(heard));
        match heard {
            Heard::Chirps(count) => self.fact(count),
            Heard::ButtonClicks(button) => self.fact(button),
            Heard::Customer(question, answers) => {
                self.fact((question, answers.len()));
                for answer in answers {
                    self.fact(discriminant(answer));
                    if let Answer::LampOdd(part, light) = answer {
                        self.fact(part);
                        self.figure(*light, EYE);
                    }
                }
            }
            Heard::MotorRuns
            | Heard::MotorStrains
            | Heard::MotorTwitches
            | Heard::PlungerHums
            | Heard::RelayClicks
            | Heard::RelayChatters
            | Heard::LatchOpens
            | Heard::LeverBinds
            | Heard::LatchTakes
            | Heard::Tone
            | Heard::ToneBreaks
            | Heard::FusePops => {}
        }
    }
}

/// Sorts what several hypotheses show into classes that can be told apart, numbered in order of first appearance.
///
/// Figures that follow one another no farther apart than their bands are one class, chains and all: what is counted as
/// told apart is never more than what an instrument tells.
#[must_use]
pub fn classes(shows: &[&Shows]) -> Vec<u16> {
    let mut order: Vec<usize> = (0..shows.len()).collect();
    order.sort_by(|&a, &b| shows[a].facts.cmp(&shows[b].facts).then(a.cmp(&b)));
    let mut class = vec![0_usize; shows.len()];
    let mut next = 0;
    for group in order.chunk_by(|&a, &b| {
        shows[a].facts == shows[b].facts && shows[a].figures.len() == shows[b].figures.len()
    }) {
        // By figure, the run of touching bands that each member is in; members with the same runs are one class.
        let count = shows[group[0]].figures.len();
        let mut runs = vec![Vec::with_capacity(count); group.len()];
        let mut by_value: Vec<usize> = (0..group.len()).collect();
        for figure in 0..count {
            let at = |member: usize| shows[group[member]].figures[figure];
            by_value.sort_by(|&a, &b| at(a).value.total_cmp(&at(b).value).then(a.cmp(&b)));
            let mut run = 0_u16;
            for pair in 0..by_value.len() {
                if pair > 0 {
                    let (low, high) = (at(by_value[pair - 1]), at(by_value[pair]));
                    if high.value - low.value > low.band.max(high.band) {
                        run += 1;
                    }
                }
                runs[by_value[pair]].push(run);
            }
        }
        let mut members: Vec<usize> = (0..group.len()).collect();
        members.sort_by(|&a, &b| runs[a].cmp(&runs[b]).then(a.cmp(&b)));
        for alike in members.chunk_by(|&a, &b| runs[a] == runs[b]) {
            for &member in alike {
                class[group[member]] = next;
            }
            next += 1;
        }
    }
    // Renumbered by first appearance, so that a class does not depend on how facts happen to be written.
    let mut names = vec![u16::MAX; next];
    let mut count = 0;
    class
        .into_iter()
        .map(|class| {
            if names[class] == u16::MAX {
                names[class] = count;
                count += 1;
            }
            names[class]
        })
        .collect()
}

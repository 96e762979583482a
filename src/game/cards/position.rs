//! How wide a card is and where it lies: beside its thing, and clear of the job sheet, the captions and the meter.

use bevy_egui::egui::{Align2, Pos2, Rect, pos2};

use super::connector;
use crate::game::bay::{Bay, Place};
use crate::game::diagram;
use crate::game::overlay::Place2d;
use crate::game::scenery::Anchors;
use crate::game::theme::LOW;

/// A card's margins on both sides, in points.
pub(super) const MARGINS: f32 = 26.0;
/// Between a card and the window's left edge, in points.
pub(super) const EDGE: f32 = 10.0;
/// How wide what a card holds is at least, in points.
const LEAST_WIDTH: f32 = 380.0;
/// How wide the card of a station is for its ribbon, and at least, in points, where the window allows it.
const STATION_WIDTH: f32 = 700.0;
pub(super) const LEAST_STATION_WIDTH: f32 = 560.0;

/// How wide a card is, in points, where the window allows it.
pub(super) fn width(bay: &Bay, open: Place) -> f32 {
    match open {
        Place::Diagram => diagram::WIDTH,
        Place::Shelf => 920.0,
        Place::Findings | Place::Everything | Place::Author => 720.0,
        Place::Customer
        | Place::Writing
        | Place::Naming
        | Place::Suspicions
        | Place::Coach
        | Place::HandingIn
        | Place::Settings
        | Place::Recorder => 520.0,
        Place::Help => 800.0,
        Place::Connector(id) => connector::width(bay, id),
        Place::Station(_) => STATION_WIDTH,
        Place::Meter => 560.0,
        // Two fuses beside each other, with names whose words are long.
        Place::Cabin => 520.0,
        _ => 410.0,
    }
}

/// The left edge of the drawn meter, in points; that of the window on its right, where the meter is not in view.
pub(in crate::game) fn meter_left(screen: Rect, place: &Place2d<'_>, anchors: &Anchors) -> f32 {
    /// From the edge of its display to that of the meter, and a little beyond.
    const RIM: f32 = 24.0;
    let display = anchors.design("meter-display");
    let left = display.map(|at| place.rect(at.centre, at.size).left() - RIM);
    left.filter(|left| (screen.center().x..screen.right()).contains(left)).unwrap_or(screen.right())
}

/// What lies about a card: the window, the left edge of the meter, the job sheet, and where the captions begin; how high the card
/// would have been when it was last seen with all that it holds in sight, and how high its thing is.
pub(super) struct Around {
    pub(super) screen: Rect,
    pub(super) meter: f32,
    pub(super) sheet: Option<Rect>,
    pub(super) bottom: f32,
    pub(super) high: Option<f32>,
    pub(super) thing: f32,
}

/// Between a thing and its card, in points.
const ASIDE: f32 = 40.0;
/// The same above and below it, and on both sides at least.
const APART: f32 = 16.0;

/// From the job sheet's lines to the edge of its board and a little beyond, in points.
pub(in crate::game) const BOARD: f32 = 24.0;

impl Around {
    /// The left edge of a card of this width beside the job sheet, if there is room up to the meter.
    fn beside(&self, width: f32) -> Option<f32> {
        let left = self.sheet.map_or(self.screen.left() + EDGE, |sheet| sheet.right() + BOARD);
        // A card that is as wide as its room fits it, however the sum is rounded.
        (left + width + MARGINS <= self.meter + 0.5).then_some(left)
    }

    /// How wide the card of something at this place is: narrower than it would be where it would lie over its thing otherwise.
    pub(super) fn narrowed(&self, at: Pos2, width: f32) -> f32 {
        /// What it has at least, in points.
        const LEAST: f32 = 300.0;
        let room = self.meter - MARGINS - at.x - ASIDE;
        if at.x < self.screen.center().x && room >= LEAST { width.min(room) } else { width }
    }

    /// How wide a card is that leaves the meter free, where there is room for one beside it.
    pub(super) fn up_to_the_meter(&self, width: f32) -> f32 {
        let room = self.meter - self.screen.left() - EDGE - MARGINS;
        if room >= LEAST_WIDTH { width.min(room) } else { width }
    }

    /// A height for a card's top: a little above its thing, with room for what it holds below.
    fn clear(&self, y: f32, open: Place) -> f32 {
        // What a card takes down to the window's edge, with the captions there, in points, where it is not known yet or changes
        // with what is done there.
        let takes = match self.high {
            Some(high) if !grows(open) => high + self.screen.bottom() - self.bottom,
            _ if grows(open) => 660.0,
            _ => 480.0,
        };
        let top = self.screen.top() + 12.0;
        (y - 60.0).clamp(top, (self.screen.bottom() - takes).max(top))
    }

    /// A height for the top of a card that would lie over its thing: above that, or below, if there is room.
    fn off(&self, y: f32) -> Option<f32> {
        let high = self.high?;
        let above = y - self.thing / 2.0 - APART - high;
        let below = y + self.thing / 2.0 + APART;
        if above >= self.screen.top() + EDGE {
            Some(above)
        } else {
            (below + high <= self.bottom).then_some(below)
        }
    }

    /// How wide a card of a connector may be: as much as there is between the job sheet and the meter, and where that is not
    /// enough for its rows of buttons, as much as there is beside the meter.
    pub(super) fn room(&self) -> f32 {
        let beside = self.sheet.map(|sheet| self.meter - sheet.right() - BOARD - MARGINS);
        let all = self.meter - self.screen.left() - EDGE - MARGINS;
        beside.filter(|room| *room >= connector::LEAST_WIDTH).unwrap_or(all).max(LEAST_WIDTH)
    }
}

/// Where a card lies, by one of its corners: of a thing in the drawing, beside it on the side with more room, and clear of the
/// job sheet, the captions and the meter.
pub(super) fn position(
    at: Option<Pos2>,
    (open, paper): (Place, bool),
    width: f32,
    around: &Around,
) -> (Align2, Pos2) {
    let &Around { screen, meter, .. } = around;
    let edge = screen.left() + EDGE;
    let upper = screen.top() + if screen.height() < LOW { EDGE } else { 24.0 };
    match at {
        Some(at) if at.x < screen.center().x => {
            // What is probed there is read on the meter.
            let most = meter - width - MARGINS;
            let least = around.beside(width).unwrap_or(edge);
            let left = (at.x + ASIDE).max(least).min(most).max(edge);
            let over = left < at.x + APART && !grows(open);
            let off = if over { around.off(at.y) } else { None };
            (Align2::LEFT_TOP, pos2(left, off.unwrap_or_else(|| around.clear(at.y, open))))
        }
        Some(at) => {
            // What lies on the trolley is behind the meter, as one looks at it.
            let right = if at.x > meter { meter } else { at.x - ASIDE };
            let least = (edge + width + MARGINS).min(screen.right());
            // One that lies over its thing in any case leaves the job sheet in view; so does one that shows all of its thing.
            let shows_it = matches!(open, Place::Connector(_) | Place::Station(_));
            let over = |sheet: Rect| shows_it && right - width - MARGINS < sheet.right();
            let aside = right < least || around.sheet.is_some_and(over);
            let beside = around.beside(width).filter(|_| aside);
            let right = beside.map_or(right.max(least), |left| left + width + MARGINS);
            let over = right > at.x - APART && !grows(open);
            let off = if over { around.off(at.y) } else { None };
            (Align2::RIGHT_TOP, pos2(right, off.unwrap_or_else(|| around.clear(at.y, open))))
        }
        // What is worked, and the meter, stay in view beside the card. The lid's stays at the edge, as more of the lid is seen
        // beside it.
        None if !paper => {
            let left = around.beside(width).filter(|_| open != Place::Lid).unwrap_or(edge);
            (Align2::LEFT_TOP, pos2(left, upper))
        }
        // Its top stays where it is while it grows, so that no button moves under the pointer.
        None => {
            let aside: f32 = if open == Place::Diagram { 85.0 } else { 20.0 };
            let aside = aside.min((screen.width() - width) / 2.0 - MARGINS);
            (Align2::CENTER_TOP, pos2(screen.center().x + aside, upper))
        }
    }
}

/// Whether a card becomes higher with what is done on it.
pub(super) fn grows(open: Place) -> bool {
    matches!(open, Place::Connector(_) | Place::Station(_) | Place::Recorder)
}

#[cfg(test)]
mod tests {
    use bevy_egui::egui::vec2;
    use probeworthy::bench::Tool;
    use probeworthy::vehicle::{ConnectorId, StationId};

    use super::*;

    /// A window of 1280 by 720 points, with the meter and the job sheet where the drawing has them.
    fn around() -> Around {
        let screen = Rect::from_min_max(pos2(0.0, 0.0), pos2(1280.0, 720.0));
        let sheet = Some(Rect::from_min_max(pos2(36.0, 36.0), pos2(170.0, 326.0)));
        Around { screen, meter: 866.0, sheet, bottom: 640.0, high: Some(200.0), thing: 16.0 }
    }

    /// From its left to its right edge.
    fn across((pivot, at): (Align2, Pos2), width: f32) -> (f32, f32) {
        let rect = pivot.anchor_size(at, vec2(width + MARGINS, 200.0));
        (rect.left(), rect.right())
    }

    #[test]
    fn the_card_of_a_thing_covers_neither_the_job_sheet_nor_the_meter() {
        let around = around();
        for (open, paper, width, at) in [
            (Place::Clamp, false, 410.0, pos2(62.0, 495.0)),
            (Place::Recorder, true, 520.0, pos2(154.0, 490.0)),
            (Place::Station(StationId::at(0)), false, 560.0, pos2(240.0, 300.0)),
            (Place::Connector(ConnectorId::at(0)), false, 470.0, pos2(300.0, 400.0)),
            (Place::Key, false, 410.0, pos2(1040.0, 414.0)),
            (Place::FuseTray, false, 410.0, pos2(1232.0, 412.0)),
            (Place::Tool(Tool::Bridge), false, 410.0, pos2(1140.0, 410.0)),
        ] {
            let (left, right) = across(position(Some(at), (open, paper), width, &around), width);
            assert!(left >= 170.0 + BOARD && right <= around.meter + 0.1, "{open:?}: {left} to {right}");
            assert!(!(left..=right).contains(&at.x), "{open:?} over its thing: {left} to {right}");
        }
    }

    #[test]
    fn a_small_card_lies_beside_its_thing_or_else_above_or_below_it() {
        let around = around();
        // With room on neither side as wide as it is, but narrower.
        let at = pos2(433.0, 448.0);
        let width = around.narrowed(at, 410.0);
        let (left, right) = across(position(Some(at), (Place::Body, false), width, &around), width);
        assert!(left > at.x + APART && right <= around.meter + 0.1, "{left} to {right}");
        // With none at all.
        let screen = Rect::from_min_max(pos2(0.0, 0.0), pos2(640.0, 360.0));
        let low = Around { screen, meter: 440.0, bottom: 290.0, high: Some(150.0), ..around };
        for (y, over) in [(224.0, false), (60.0, false), (150.0, true)] {
            let at = pos2(216.0, y);
            let width = low.narrowed(at, 410.0);
            let (_, place) = position(Some(at), (Place::Body, false), width, &low);
            let covers = (place.y..=place.y + 150.0).contains(&y);
            assert_eq!(covers, over, "{y}: {place:?}");
            assert!(place.y >= EDGE && place.y + 150.0 <= 290.0, "{y}: {place:?}");
        }
    }

    #[test]
    fn a_card_that_has_no_room_beside_the_job_sheet_stays_in_the_window() {
        let screen = Rect::from_min_max(pos2(0.0, 0.0), pos2(640.0, 360.0));
        let around = Around { screen, meter: 500.0, ..around() };
        for at in [None, Some(pos2(30.0, 240.0)), Some(pos2(300.0, 100.0)), Some(pos2(520.0, 205.0))] {
            for width in [410.0, 580.0] {
                let (left, right) = across(position(at, (Place::Clamp, false), width, &around), width);
                assert!(left >= 0.0 && right <= 640.0, "{at:?}, {width}: {left} to {right}");
            }
        }
    }
}

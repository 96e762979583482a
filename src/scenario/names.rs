//! Names of points in text, as commands and records write them.

use crate::vehicle::{Half, Point, Side, Vehicle};

/// A point's name: `latch.3`, `latch-pins.3`, `f1.feed`, `screen.2.4` (line and place), `ground-stud`, `body`, `battery-plus`, `key-minus`.
#[must_use]
pub fn point_name(vehicle: &Vehicle, point: Point) -> String {
    match point {
        Point::Cavity(connector, half, cavity) => {
            let connector = vehicle.connector(connector);
            let half = if half == Half::Loom { &connector.id } else { &connector.mate_id };
            format!("{half}.{cavity}")
        }
        Point::Fuse(fuse, Side::Feed) => format!("{}.feed", vehicle.fuse(fuse).id),
        Point::Fuse(fuse, Side::Load) => format!("{}.load", vehicle.fuse(fuse).id),
        Point::Stud(stud) => vehicle.stud(stud).id.clone(),
        Point::Body => "body".to_owned(),
        Point::BatteryPlus => "battery-plus".to_owned(),
        Point::BatteryMinus => "battery-minus".to_owned(),
        Point::KeyPlus => "key-plus".to_owned(),
        Point::KeyMinus => "key-minus".to_owned(),
        Point::Line(part, line, place) => format!("{}.{line}.{place}", vehicle.part(part).id),
    }
}

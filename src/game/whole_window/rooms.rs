//! What must stay in view beside what lies over the scene: the meter's display beside cards and captions, signs beside each other.

use bevy_egui::egui::{Id, Rect};
use probeworthy::vehicle::ConnectorId;
use probeworthy::words::Language;

use super::super::bay::Place;
use super::super::first_job::Guide;
use super::super::legible::bay_of;
use super::super::overlay::Place2d;
use super::super::settings::Light;
use super::{FRAMES, LEAST_WINDOW, Look, STANDINGS, Standing, Viewer, WIDE_WINDOW, WINDOW, Window};

impl Window<'_> {
    /// Where something of the drawing lies in the window, in points.
    fn drawn_at(&self, name: &str) -> Rect {
        let view = self.view();
        let at = self.anchors.design(name).expect(name);
        Place2d::new(&view, self.zoom()).rect(at.centre, at.size)
    }

    /// Where a card, or what else is laid over the scene, lay in the last frame.
    fn laid(&self, id: Id) -> Option<Rect> {
        self.eye.area(id)
    }
}

#[test]
fn the_cards_of_connectors_leave_the_meters_display_in_view() {
    let looks = [100, 150, 200].map(|percent| Look(percent, Light::Dim, WINDOW));
    for look in
        looks.into_iter().chain([WIDE_WINDOW, LEAST_WINDOW].map(|window| Look(100, Light::Dim, window)))
    {
        let mut viewer = Viewer::new(Language::German, look);
        for (name, [_, _, Standing { job, anchors }, _]) in STANDINGS.iter() {
            for at in 0..job.scenario().vehicle.connectors.len() {
                let place = Place::Connector(ConnectorId::at(at));
                let mut bay = bay_of(job);
                bay.open = Some(place);
                let mut window = viewer.window(bay, anchors);
                window.look(FRAMES, None);
                let card = window.laid(Id::new(("card", format!("{place:?}")))).expect("it is open");
                let what = format!("{name}, {}, {look:?}", job.scenario().vehicle.connectors[at].id);
                let display = window.drawn_at("meter-display");
                assert!(!card.intersects(display), "{what}: {card:?} over {display:?}");
                let sheet = window.laid(Id::new("sheet")).expect("it hangs there");
                // The socket's is too wide to lie beside its thing, and lies beside the sheet instead.
                let socket = job.scenario().vehicle.connectors[at].id == "socket";
                assert!(
                    !socket || look.0 > 100 || !card.intersects(sheet),
                    "{what}: {card:?} over {sheet:?}"
                );
            }
        }
    }
}

#[test]
fn signs_do_not_lie_on_each_other() {
    for percent in [100, 200] {
        let mut viewer = Viewer::new(Language::English, Look(percent, Light::Dim, WINDOW));
        // As much as two of them are high, in points: in large text they grow less than words.
        let least = 15.0 / (f32::from(percent) / 100.0).sqrt();
        for (name, standings) in STANDINGS.iter() {
            for (stand, Standing { job, anchors }) in standings.iter().enumerate() {
                let mut bay = bay_of(job);
                bay.open = None;
                let mut window = viewer.window(bay, anchors);
                let seen = window.look(FRAMES, None);
                let signs: Vec<(String, Rect)> = super::spots::named(&window.bay, anchors)
                    .into_iter()
                    .filter_map(|(id, label, _)| Some((label, seen.place_of(id)?)))
                    .filter(|(_, rect)| (rect.width() - rect.height()).abs() < 0.01 && rect.width() < 26.5)
                    .collect();
                assert!(signs.len() > 3, "{name}, standing {stand}");
                for (at, (one, here)) in signs.iter().enumerate() {
                    for (other, there) in &signs[at + 1..] {
                        let apart = here.center().distance(there.center());
                        assert!(
                            apart > least,
                            "{name}, standing {stand}, {percent} %: {one} and {other}: {apart}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn captions_leave_the_meter_and_low_signs_in_view() {
    // The first job's note takes most of the lower edge in large text.
    let (_, [shut, ..]) = &STANDINGS[0];
    for percent in [100, 150, 200] {
        let mut viewer = Viewer::new(Language::German, Look(percent, Light::Dim, WINDOW));
        let mut bay = bay_of(&shut.job);
        (bay.open, bay.guide) = (None, Some(Guide::Step(4)));
        let mut window = viewer.window(bay, &shut.anchors);
        window.look(FRAMES, None);
        let captions = window.laid(Id::new("captions")).expect("something was done");
        let display = window.drawn_at("meter-display");
        assert!(!captions.intersects(display), "{percent} %: {captions:?} over {display:?}");
    }
    // A trailer stands low.
    let mut viewer = Viewer::new(Language::German, Look(100, Light::Dim, WINDOW));
    let (name, [shut, ..]) = STANDINGS.last().expect("there are vehicles");
    let mut bay = bay_of(&shut.job);
    bay.open = None;
    let mut window = viewer.window(bay, &shut.anchors);
    window.look(FRAMES, None);
    let captions = window.laid(Id::new("captions")).expect("something was done");
    for (_, label, at) in super::spots::named(&window.bay, &shut.anchors) {
        let Some(at) = at.filter(|at| at.visible) else { continue };
        let view = window.view();
        let at = Place2d::new(&view, window.zoom()).at(at.centre);
        assert!(!captions.contains(at), "{name}: {label} under the captions, {captions:?}");
    }
}

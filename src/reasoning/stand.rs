//! How a vehicle is made to stand for a test: what is open, off, unplugged and switched on, and what it takes to get there.

use crate::bench::{Action, LidTo, World, minutes};
use crate::job::Scene;
use crate::vehicle::{ConnectorId, LidPosition, PanelId, PartId, PartKind, Reach, Vehicle, Zone};

/// How a vehicle is made to stand. Lists are in order.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stand {
    /// The lid is up.
    pub lid_up: bool,
    /// The lid is off its latch, and too low to work under.
    pub lid_low: bool,
    /// These panels are off.
    pub panels_off: Vec<PanelId>,
    /// These connectors are open.
    pub unplugged: Vec<ConnectorId>,
    /// These switches are on.
    pub on: Vec<PartId>,
}

impl Stand {
    /// How a vehicle stands.
    #[must_use]
    pub fn of(vehicle: &Vehicle, world: &World) -> Self {
        let state = &world.state;
        Self::seen(vehicle, state.lid, &state.panels_off, &state.mated, &state.on)
    }

    /// How the vehicle of a job stands.
    #[must_use]
    pub fn of_scene(vehicle: &Vehicle, scene: Scene<'_>) -> Self {
        Self::seen(vehicle, scene.lid(), scene.panels_off(), scene.mated(), scene.switched_on())
    }

    fn seen(vehicle: &Vehicle, lid: LidPosition, panels_off: &[bool], mated: &[bool], on: &[bool]) -> Self {
        fn those<T>(flags: &[bool], wanted: bool, id: impl Fn(usize) -> T) -> Vec<T> {
            flags.iter().enumerate().filter(|(_, flag)| **flag == wanted).map(|(at, _)| id(at)).collect()
        }
        let loose = !matches!(lid, LidPosition::Shut | LidPosition::FirstCatch);
        let lid_up = lid.degrees() >= f64::from(vehicle.lid.reach_degrees);
        Self {
            lid_up,
            lid_low: loose && !lid_up,
            panels_off: those(panels_off, true, PanelId::at),
            unplugged: those(mated, false, ConnectorId::at),
            on: those(on, true, PartId::at),
        }
    }

    /// Whether the lid is off its latch, low or up.
    #[must_use]
    pub fn lid_is_loose(&self) -> bool {
        self.lid_low || self.lid_up
    }

    /// The same with what has to be open so that something can be reached; with `shut`, by way of the cabin where that
    /// can be done.
    #[must_use]
    pub fn reaching(&self, vehicle: &Vehicle, reach: Reach, shut: bool) -> Self {
        let mut stand = self.clone();
        let seat = vehicle.panels.iter().position(|panel| panel.opens == Some(Zone::LoadSpace));
        match (reach.zone, seat.map(PanelId::at)) {
            (Zone::LoadSpace, Some(seat)) if shut => stand.panels_off.push(seat),
            (Zone::LoadSpace | Zone::Lid, _) => (stand.lid_up, stand.lid_low) = (true, false),
            _ => {}
        }
        stand.panels_off.extend(reach.panel);
        stand.panels_off.sort_unstable();
        stand.panels_off.dedup();
        stand
    }

    /// The same with a connector open.
    #[must_use]
    pub fn without(&self, connector: ConnectorId) -> Self {
        let mut stand = self.clone();
        stand.unplugged.push(connector);
        stand.unplugged.sort_unstable();
        stand.unplugged.dedup();
        stand
    }

    /// What has to be done so that a vehicle that stands like this stands like `other`. Panels that are off stay off:
    /// they are put back at the end.
    #[must_use]
    pub fn acts_to(&self, vehicle: &Vehicle, other: &Self) -> Vec<Action> {
        let mut acts = Vec::new();
        let missing = |from: &[PanelId], to: &[PanelId]| -> Vec<PanelId> {
            to.iter().copied().filter(|panel| !from.contains(panel)).collect()
        };
        acts.extend(
            self.on.iter().filter(|part| !other.on.contains(part)).map(|&part| Action::Switch(part, false)),
        );
        acts.extend(
            self.unplugged
                .iter()
                .filter(|id| !other.unplugged.contains(id))
                .map(|&id| Action::Plug(id, true)),
        );
        let (loose, other_loose) = (self.lid_is_loose(), other.lid_is_loose());
        if other_loose && !loose {
            acts.push(Action::Lever);
        }
        if other.lid_up && !self.lid_up {
            acts.push(Action::Lid(LidTo::Angle(vehicle.lid.full_degrees)));
        }
        acts.extend(
            missing(&self.panels_off, &other.panels_off).into_iter().map(|id| Action::Panel(id, true)),
        );
        acts.extend(
            other
                .unplugged
                .iter()
                .filter(|id| !self.unplugged.contains(id))
                .map(|&id| Action::Plug(id, false)),
        );
        if loose && !other_loose {
            acts.push(Action::Lid(LidTo::Shut));
        }
        acts.extend(
            other.on.iter().filter(|part| !self.on.contains(part)).map(|&part| Action::Switch(part, true)),
        );
        acts
    }

    /// Minutes from this to another.
    #[must_use]
    pub fn minutes_to(&self, vehicle: &Vehicle, world: &World, other: &Self) -> f64 {
        self.acts_to(vehicle, other).iter().map(|act| minutes(vehicle, world, act)).sum()
    }

    /// Minutes to put everything back: plugged, panels on, switches off, lid shut.
    #[must_use]
    pub fn minutes_to_rest(&self, vehicle: &Vehicle, world: &World) -> f64 {
        let panels: f64 = self.panels_off.iter().map(|&panel| vehicle.panel(panel).on_minutes).sum();
        panels + self.minutes_to(vehicle, world, &Self::default())
    }
}

/// Switches that stay where they are put.
pub(super) fn staying_switches(vehicle: &Vehicle) -> Vec<PartId> {
    switches(vehicle, false)
}

/// Switches that spring back.
pub(super) fn springy_switches(vehicle: &Vehicle) -> Vec<PartId> {
    switches(vehicle, true)
}

fn switches(vehicle: &Vehicle, springy: bool) -> Vec<PartId> {
    vehicle
        .parts()
        .filter(
            |(_, part)| matches!(part.kind, PartKind::Switch { springs_back, .. } if springs_back == springy),
        )
        .map(|(id, _)| id)
        .collect()
}

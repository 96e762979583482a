//! What comes a while after its cause: armatures, bounces, debounced inputs, outputs that shut themselves down, supplies.

use super::Course;
use crate::circuit::Electrical;
use crate::vehicle::ids::{FuseId, PartId};
use crate::vehicle::part::PartKind;
use crate::vehicle::sense::{module_works, reads_low};
use crate::vehicle::timers::Due;

/// Something that happened at the end of a phase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// A fuse of the vehicle has opened.
    FuseBlown(FuseId),
    /// The fuse of the load at this position has opened.
    ToolFuseBlown(usize),
    /// The last strands of a conductor have melted; the deviation's position.
    StrandsMelted(usize),
    /// The latch has let go.
    Released,
    /// The latch's drive has come to its end stop with the latch open already, or back to where it set out.
    AtEnd,
    /// A relay's armature has moved, or its contacts have bounced.
    Relay(PartId),
    /// A module takes an input for changed.
    Input(PartId, usize),
    /// An electronic output has shut itself down.
    ShutDown(PartId, usize),
    /// A module has lost its supply, or has it again.
    Supply(PartId),
}

impl Event {
    /// Whether a module has only taken something in: that switches nothing until it acts upon it.
    pub(super) fn is_taken_in(self) -> bool {
        matches!(self, Self::Input(..))
    }
}

/// How often contacts part and meet again before they stay together.
const BOUNCES: u8 = 4;
/// A driver counts as limiting above this share of its limit.
const LIMITING: f64 = 0.95;
/// How long a module's own capacitor holds it up, and how long it takes to come up, in seconds (common practice, no source).
const HOLD_UP_SECONDS: f64 = 5e-3;

impl Course<'_> {
    /// Starts and stops the delays whose causes have come or gone.
    pub(super) fn arm(&mut self, point: &impl Electrical, on: &[(PartId, usize)]) {
        let mut delays = std::mem::take(&mut self.state.delays);
        for (id, part) in self.vehicle.parts() {
            let now = self.state.part(id);
            match &part.kind {
                PartKind::Relay(relay) if !delays.is_bouncing(id) => {
                    let amps = point.amps(self.wiring.winding_branch(id)).abs();
                    let (moves, seconds) = if now.pulled {
                        (amps < relay.drop_out_volts / relay.coil_ohms, relay.release_seconds)
                    } else {
                        (amps >= relay.pull_in_volts / relay.coil_ohms, relay.operate_seconds)
                    };
                    delays.follow(Due::Armature(id), moves, seconds);
                }
                PartKind::Module(module) => {
                    let works = module_works(self.vehicle, self.wiring, point, id);
                    delays.follow(Due::Supply(id), works != now.works, HOLD_UP_SECONDS);
                    for (at, input) in module.inputs.iter().enumerate() {
                        let changes = now.works
                            && reads_low(self.vehicle, self.wiring, self.state, point, id, at) != now.low[at];
                        delays.follow(Due::Input(id, at), changes, input.debounce_seconds);
                    }
                    for (at, output) in module.outputs.iter().enumerate() {
                        let Some(driver) = output.kind.driver() else { continue };
                        let amps = point.amps(self.wiring.output_branch(id, at)).abs();
                        let limits = on.contains(&(id, at))
                            && !now.shut_down[at]
                            && amps > LIMITING * driver.limit_amps;
                        delays.follow(Due::ShutDown(id, at), limits, driver.shuts_down_seconds);
                    }
                }
                _ => {}
            }
        }
        self.state.delays = delays;
    }

    /// What the delays that have run out bring about. The first that switches something gives its name to the phase's
    /// end, before what a module only takes in.
    pub(super) fn due(&mut self) -> Option<Event> {
        let mut named: Option<Event> = None;
        while let Some(due) = self.state.delays.take_due() {
            let event = self.come_due(due);
            if named.is_none_or(|named| named.is_taken_in() && !event.is_taken_in()) {
                named = Some(event);
            }
        }
        named
    }

    fn come_due(&mut self, due: Due) -> Event {
        match due {
            Due::Armature(id) => {
                let now = &mut self.state.parts[id.index()];
                let pulls = !now.pulled;
                (now.pulled, now.apart) = (pulls, false);
                let bounce_seconds = self.bounce_seconds(id);
                if pulls && bounce_seconds > 0.0 {
                    self.state.delays.follow(Due::Bounce(id, BOUNCES), true, bounce_seconds);
                }
                Event::Relay(id)
            }
            Due::Bounce(id, left) => {
                let now = &mut self.state.parts[id.index()];
                now.apart = !now.apart;
                if left > 1 {
                    self.state.delays.follow(Due::Bounce(id, left - 1), true, self.bounce_seconds(id));
                }
                Event::Relay(id)
            }
            Due::Input(id, at) => {
                let low = &mut self.state.parts[id.index()].low[at];
                *low = !*low;
                self.noticed = true;
                Event::Input(id, at)
            }
            Due::ShutDown(id, at) => {
                self.state.parts[id.index()].shut_down[at] = true;
                Event::ShutDown(id, at)
            }
            Due::Supply(id) => {
                let now = &mut self.state.parts[id.index()];
                now.works = !now.works;
                // A command does not outlive the module's supply.
                if !now.works && self.pulse.is_some_and(|(part, _)| part == id) {
                    self.pulse = None;
                }
                Event::Supply(id)
            }
        }
    }

    /// Seconds between one meeting or parting of a relay's contacts and the next while they bounce.
    fn bounce_seconds(&self, id: PartId) -> f64 {
        match &self.vehicle.part(id).kind {
            PartKind::Relay(relay) => relay.bounce_seconds / f64::from(BOUNCES),
            _ => 0.0,
        }
    }
}

//! What is in hand is put to a point, or taken off it.

use bevy_egui::egui::Response;
use probeworthy::bench::{Action, ClampPlace, Lead};
use probeworthy::vehicle::Point;

use super::bay::{Bay, Hand};

impl Bay {
    /// Takes a probe off what it is on, if it is on anything.
    pub(super) fn take_off(&mut self, lead: Lead) {
        let meter = self.job.as_ref().map(|job| &job.scene().kit().meter);
        let on = meter.is_some_and(|meter| match lead {
            Lead::Red => meter.red.is_some(),
            Lead::Black => meter.black.is_some(),
        });
        if on {
            self.act(Action::Probe(lead, None));
        }
    }

    /// Whether a dragged probe has just been let go over a widget.
    pub(super) fn is_dropped_on(&self, response: &Response) -> bool {
        self.dragging
            && response.contains_pointer()
            && response.ctx.input(|input| input.pointer.any_released())
    }

    /// Puts what is in hand to a point, or takes note of the first of two.
    pub(super) fn put_to(&mut self, point: Point) {
        match self.hand {
            Hand::Empty | Hand::Tool(_) => {}
            Hand::Probe(lead) => {
                self.act(if self.draft.hasty {
                    Action::ProbeHastily(lead, point)
                } else {
                    Action::Probe(lead, Some(point))
                });
                self.hand = Hand::Empty;
            }
            Hand::Clamp => {
                let place = match point {
                    Point::Cavity(connector, half, cavity)
                        if self.vehicle().is_loom_half(connector, half) =>
                    {
                        Some(ClampPlace::Cavity(connector, half, cavity))
                    }
                    Point::BatteryPlus => Some(ClampPlace::BatteryPlus),
                    _ => None,
                };
                if place.is_some() {
                    self.close_clamp(place);
                } else {
                    self.misfit = Some(point);
                }
            }
            Hand::Recorder(None) => self.hand = Hand::Recorder(Some(point)),
            Hand::Recorder(Some(first)) => {
                self.act(Action::RecorderLeads(Some((first, point))));
                self.hand = Hand::Empty;
            }
            Hand::Clip(tool, None) => self.hand = Hand::Clip(tool, Some(point)),
            Hand::Clip(tool, Some(first)) => {
                self.act(Action::Clip(tool, Some((first, point))));
                self.hand = Hand::Empty;
            }
        }
    }

    /// Closes the clamp round something, from the hand if it is there.
    pub(super) fn close_clamp(&mut self, place: Option<ClampPlace>) {
        self.act(Action::Clamp(place));
        if self.hand == Hand::Clamp {
            self.hand = Hand::Empty;
        }
    }
}

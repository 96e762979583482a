//! What one lead of the meter would show on point after point, as things stand.

use super::action::{Lead, MeterSetting};
use super::kit::Kit;
use super::outcome::Display;
use super::step::touch;
use super::world::World;
use crate::circuit::{Node, Unsolved};
use crate::vehicle::{Point, Vehicle, still};

impl World {
    /// What the meter would show on a setting with its black lead on one point and its red one on each of others in turn;
    /// `None` for a point that cannot be touched. All other tools are taken off.
    ///
    /// Each figure is met at the port, as that of a meter whose leads are put there one by one. What only a converter's
    /// current would switch is left out: it is for volts, and for ohms where nothing is powered.
    ///
    /// # Errors
    /// [`Unsolved`] where the circuit has no operating point.
    pub fn sweep(
        &self,
        vehicle: &Vehicle,
        setting: MeterSetting,
        black: Point,
        points: &[Point],
    ) -> Result<Vec<Option<Display>>, Unsolved> {
        if touch(vehicle, self, black).is_err() {
            return Ok(vec![None; points.len()]);
        }
        let touched: Vec<bool> = points.iter().map(|&point| touch(vehicle, self, point).is_ok()).collect();
        self.sweep_those(vehicle, setting, black, points, &touched)
    }

    /// The same of every point, those too that lie behind something: for an instructor, whose eye goes through panels.
    ///
    /// # Errors
    /// [`Unsolved`] where the circuit has no operating point.
    pub fn sweep_laid_open(
        &self,
        vehicle: &Vehicle,
        setting: MeterSetting,
        black: Point,
        points: &[Point],
    ) -> Result<Vec<Option<Display>>, Unsolved> {
        self.sweep_those(vehicle, setting, black, points, &vec![true; points.len()])
    }

    fn sweep_those(
        &self,
        vehicle: &Vehicle,
        setting: MeterSetting,
        black: Point,
        points: &[Point],
        touched: &[bool],
    ) -> Result<Vec<Option<Display>>, Unsolved> {
        let mut kit = Kit::new(self.kit.errors);
        let bare = still(vehicle, &self.wiring, None, &self.state, &[], &[], &mut self.last.clone())?;
        let network = self.wiring.network();
        let nodes: Vec<Node> = std::iter::once(self.wiring.node(black))
            .chain(
                points
                    .iter()
                    .zip(touched)
                    .filter(|(_, touched)| **touched)
                    .map(|(&point, _)| self.wiring.node(point)),
            )
            .collect();
        let ports = bare.point().ports(network, &nodes);
        kit.meter.setting = setting;
        kit.meter.put(Lead::Black, Some(black), None);
        let error = kit.meter_error();
        points
            .iter()
            .zip(touched)
            .map(|(&point, touched)| {
                if !touched || point == black {
                    return Ok(None);
                }
                kit.meter.put(Lead::Red, Some(point), None);
                let Some((load, _)) = kit.meter.load(&self.wiring) else { return Ok(None) };
                let felt = kit.meter.felt(ports.attach(&load)?);
                Ok(Some(kit.meter.display(felt, error)))
            })
            .collect()
    }
}

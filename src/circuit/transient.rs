//! Placeholder until the integrator lands: implicit Euler with fixed steps.
#![allow(missing_docs, reason = "replaced")]
use super::{Branch, Filament, Law, Load, Network, OperatingPoint, Unsolved, operating_point};

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dynamic {
    Coil {
        ohms: f64,
        henries: f64,
        amps: f64,
    },
    Motor {
        ohms: f64,
        henries: f64,
        inertia_farads: f64,
        breakaway_amps: f64,
        idle_amps: f64,
        slope_siemens: f64,
        held: bool,
        amps: f64,
        speed_volts: f64,
    },
    Bulb {
        filament: Filament,
        seconds: f64,
        ohms: f64,
    },
}

#[derive(Clone, Debug)]
pub struct Transient {
    network: Network,
    laws: Vec<Law>,
    loads: Vec<Load>,
    dynamics: Vec<(Branch, Dynamic)>,
    turned: Vec<f64>,
    seconds: f64,
    point: OperatingPoint,
}

impl Transient {
    pub fn new(
        network: &Network,
        laws: &[Law],
        loads: &[Load],
        dynamics: Vec<(Branch, Dynamic)>,
    ) -> Result<Self, Unsolved> {
        let mut all = laws.to_vec();
        for (branch, dynamic) in &dynamics {
            all[branch.0] = match *dynamic {
                Dynamic::Coil { amps, .. } | Dynamic::Motor { amps, .. } => {
                    Law::Linear { siemens: 1e-9, amps }
                }
                Dynamic::Bulb { ohms, .. } => Law::ohms(ohms),
            };
        }
        let point = operating_point(network, &all, loads)?;
        Ok(Self {
            network: network.clone(),
            laws: laws.to_vec(),
            loads: loads.to_vec(),
            turned: vec![0.0; dynamics.len()],
            dynamics,
            seconds: 0.0,
            point,
        })
    }
    pub fn advance(
        &mut self,
        most: f64,
        events: &[&dyn Fn(&Self) -> f64],
        each: &mut dyn FnMut(&Self),
    ) -> Result<Option<usize>, Unsolved> {
        let steps = 20.0_f64;
        let h = most / steps;
        for _ in 0..20 {
            let mut all = self.laws.clone();
            for (branch, dynamic) in &self.dynamics {
                all[branch.0] = match *dynamic {
                    Dynamic::Coil { ohms, henries, amps } => {
                        let r = ohms + henries / h;
                        Law::Linear { siemens: 1.0 / r, amps: henries / h * amps / r }
                    }
                    Dynamic::Motor {
                        ohms,
                        henries,
                        amps,
                        speed_volts,
                        held,
                        breakaway_amps,
                        inertia_farads,
                        idle_amps,
                        slope_siemens,
                    } => {
                        let r = ohms + henries / h;
                        let moving = !held && (speed_volts != 0.0 || amps.abs() > breakaway_amps);
                        if moving {
                            let c = inertia_farads / h + slope_siemens;
                            let sign = if speed_volts == 0.0 { amps.signum() } else { speed_volts.signum() };
                            let e0 = (inertia_farads / h * speed_volts - sign * idle_amps) / c;
                            let rr = r + 1.0 / c;
                            Law::Linear { siemens: 1.0 / rr, amps: (henries / h * amps - e0) / rr }
                        } else {
                            Law::Linear { siemens: 1.0 / r, amps: henries / h * amps / r }
                        }
                    }
                    Dynamic::Bulb { ohms, .. } => Law::ohms(ohms),
                };
            }
            self.point = operating_point(&self.network, &all, &self.loads)?;
            for (at, (branch, dynamic)) in self.dynamics.iter_mut().enumerate() {
                let now = self.point.amps(*branch);
                let (a, b) = self.network.ends(*branch);
                let v = self.point.volts(a) - self.point.volts(b);
                match dynamic {
                    Dynamic::Coil { amps, .. } => *amps = now,
                    Dynamic::Motor { ohms, henries, amps, speed_volts, held, breakaway_amps, .. } => {
                        let moving = !*held && (*speed_volts != 0.0 || amps.abs() > *breakaway_amps);
                        if moving {
                            let e = v - now * *ohms - *henries / h * (now - *amps);
                            *speed_volts = if *speed_volts * e < 0.0 || (*speed_volts == 0.0 && e * now < 0.0)
                            {
                                0.0
                            } else {
                                e
                            };
                        } else if *held {
                            *speed_volts = 0.0;
                        }
                        self.turned[at] += *speed_volts * h;
                        *amps = now;
                    }
                    Dynamic::Bulb { filament, seconds, ohms } => {
                        let goal = filament.ohms(v);
                        *ohms += (goal - *ohms) * (1.0 - libm::exp(-h / *seconds));
                    }
                }
            }
            self.seconds += h;
            each(self);
            for (at, event) in events.iter().enumerate() {
                if event(self) <= 0.0 {
                    return Ok(Some(at));
                }
            }
        }
        Ok(None)
    }
    pub fn seconds(&self) -> f64 {
        self.seconds
    }
    pub fn point(&self) -> OperatingPoint {
        self.point.clone()
    }
    pub fn amps(&self, at: usize) -> f64 {
        match self.dynamics[at].1 {
            Dynamic::Coil { amps, .. } | Dynamic::Motor { amps, .. } => amps,
            Dynamic::Bulb { .. } => 0.0,
        }
    }
    pub fn speed_volts(&self, at: usize) -> f64 {
        match self.dynamics[at].1 {
            Dynamic::Motor { speed_volts, .. } => speed_volts,
            _ => 0.0,
        }
    }
    pub fn turned_volt_seconds(&self, at: usize) -> f64 {
        self.turned[at]
    }
    pub fn ohms(&self, at: usize) -> f64 {
        match self.dynamics[at].1 {
            Dynamic::Bulb { ohms, .. } => ohms,
            _ => 0.0,
        }
    }
}

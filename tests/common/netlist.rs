//! Circuits written out for ngspice, an independent circuit simulator, and its answers read back.
//!
//! Nothing of how the circuit is solved here is shared with it: small resistances, lamps and fuses are written as
//! voltages that follow from currents, where the model has currents that follow from voltages. That also keeps digits:
//! a milliohm as a conductance in ngspice's matrix would drown a leakage of gigohms.
#![allow(dead_code, reason = "each test and bench uses what it needs")]
#![allow(clippy::print_stderr, reason = "a comparison that is skipped says so")]

use std::convert::Infallible;
use std::fmt::Write as _;
use std::process::{Command, Stdio};

use probeworthy::circuit::{Branch, Diode, Filament, Law, Limited, Load, Network, Node, WarmFuse};
use probeworthy::threads::{available, in_parallel};
use tempfile::TempDir;

/// Exponent of a filament's current over its voltage (Fink & Beaty, Standard Handbook for Electrical Engineers,
/// p. 22-8; second-hand).
const FILAMENT_EXPONENT: f64 = 0.55;
/// Thermal voltage at 27 °C with the constants that ngspice is built with (CODATA 2014, its `const.h`; seen to the last
/// digit in the answers of version 39).
const THERMAL_VOLTS: f64 = 1.38064852e-23 * 300.15 / 1.6021766208e-19;
/// Resistances below this are written as voltages that follow from a current.
const BY_CURRENT_BELOW_OHMS: f64 = 1e4;
/// Tolerances far below what is compared, a leakage across junctions that no gigohm feels, pivots of any size, and
/// enough steps.
const OPTIONS: &str = ".options reltol=1e-10 abstol=1e-16 vntol=1e-11 chgtol=1e-18 gmin=1e-20 pivtol=1e-40 pivrel=0.1 \
                       itl1=200 temp=27 tnom=27";

/// Circuits that one process of ngspice works out.
const DECKS_A_RUN: usize = 32;

/// What to say where ngspice is not installed.
pub(crate) const INSTALL: &str =
    "install ngspice (Debian: `apt-get install ngspice`) so that `ngspice` is on the path";

/// Whether `ngspice` can be run.
pub(crate) fn is_installed() -> bool {
    let quiet = || Stdio::null();
    Command::new("ngspice").arg("-v").stdin(quiet()).stdout(quiet()).stderr(quiet()).status().is_ok()
}

/// Whether a comparison can be made. Where it cannot, it is said plainly that it was skipped; with `CI` set in the
/// environment it has to be possible.
#[track_caller]
pub(crate) fn can_compare() -> bool {
    let installed = is_installed();
    assert!(installed || std::env::var_os("CI").is_none(), "ngspice is needed here: {INSTALL}");
    if !installed {
        eprintln!("skipped, since there is no ngspice here: {INSTALL}");
    }
    installed
}

/// A circuit as ngspice reads it. Node `n` of the network is ngspice's `n<n>`, and the reference its `0`.
#[derive(Clone, Debug, Default)]
pub(crate) struct Netlist {
    text: String,
    elements: usize,
}

/// A node's name.
pub(crate) fn name(node: Node) -> String {
    if node == Node::GROUND { "0".to_owned() } else { format!("n{}", node.0) }
}

impl Netlist {
    /// A network with these laws on its branches. Its ideal sources are added with [`Netlist::ideal_source`].
    pub(crate) fn of(network: &Network, laws: &[Law]) -> Self {
        let mut netlist = Self::default();
        for (at, law) in laws.iter().enumerate() {
            let (from, to) = network.ends(Branch(at));
            netlist.law(&name(from), &name(to), law);
        }
        netlist
    }

    /// The netlist's lines so far.
    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Adds a line as it is.
    pub(crate) fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// A number that no element has yet.
    pub(crate) fn number(&mut self) -> usize {
        self.elements += 1;
        self.elements
    }

    /// Adds an ideal source.
    pub(crate) fn ideal_source(&mut self, plus: Node, minus: Node, volts: f64) {
        let at = self.number();
        self.line(&format!("v{at} {} {} dc {volts:e}", name(plus), name(minus)));
    }

    /// Adds a load: its leads, and behind them what it is.
    pub(crate) fn load(&mut self, load: &Load) {
        let inner = format!("l{}", self.number());
        self.law(&name(load.from), &inner, &Law::ohms(load.lead_ohms));
        self.law(&inner, &name(load.to), &load.law);
    }

    /// Adds a plain resistor that can be altered later, and returns its name.
    pub(crate) fn resistor(&mut self, from: &str, to: &str, ohms: f64) -> String {
        let resistor = format!("r{}", self.number());
        self.line(&format!("{resistor} {from} {to} {ohms:e}"));
        resistor
    }

    /// Adds a branch.
    pub(crate) fn law(&mut self, from: &str, to: &str, law: &Law) {
        match *law {
            Law::Conductance(siemens) => self.linear(from, to, siemens, 0.0),
            Law::Linear { siemens, amps } => self.linear(from, to, siemens, amps),
            Law::Filament(filament) => self.filament(from, to, &filament),
            Law::Diode(diode) => self.diode(from, to, &diode),
            Law::Limited(output) => self.limited(from, to, &output),
            Law::WarmFuse(fuse) => self.warm_fuse(from, to, &fuse),
        }
    }

    fn linear(&mut self, from: &str, to: &str, siemens: f64, amps: f64) {
        let at = self.number();
        if siemens * BY_CURRENT_BELOW_OHMS > 1.0 {
            // V = −amps / siemens + I / siemens
            let (volts, ohms) = (-amps / siemens, 1.0 / siemens);
            self.line(&format!("v{at} {from} x{at} dc {volts:e}"));
            self.line(&format!("h{at} x{at} {to} v{at} {ohms:e}"));
        } else {
            if siemens > 0.0 {
                self.line(&format!("r{at} {from} {to} {:e}", 1.0 / siemens));
            }
            if amps != 0.0 {
                self.line(&format!("i{at} {from} {to} dc {amps:e}"));
            }
        }
    }

    /// Adds a voltage that follows from the current: `volts` is an expression of it.
    fn by_current(&mut self, from: &str, to: &str, volts: impl FnOnce(&str) -> String) {
        let at = self.number();
        self.line(&format!("v{at} {from} x{at} dc 0"));
        self.line(&format!("b{at} x{at} {to} v={{{}}}", volts(&format!("i(v{at})"))));
    }

    /// V = V_rated (I / I_rated)^(1/0.55), but no less than the cold resistance drops.
    fn filament(&mut self, from: &str, to: &str, filament: &Filament) {
        let Filament { rated_volts, rated_watts } = *filament;
        let (rated_amps, cold_ohms) = (rated_watts / rated_volts, filament.cold_ohms());
        // Where the two meet: I R_cold = V_rated (I / I_rated)^(1/0.55).
        let share =
            libm::pow(cold_ohms * rated_amps / rated_volts, FILAMENT_EXPONENT / (1.0 - FILAMENT_EXPONENT));
        let (cold_amps, exponent) = (share * rated_amps, 1.0 / FILAMENT_EXPONENT);
        self.by_current(from, to, |i| {
            format!(
                "abs({i}) < {cold_amps:e} ? {cold_ohms:e}*{i} : sgn({i})*{rated_volts:e}*pow(abs({i})/{rated_amps:e}, {exponent:e})"
            )
        });
    }

    /// V = I R_cold (1 + a (I / rating)²).
    fn warm_fuse(&mut self, from: &str, to: &str, fuse: &WarmFuse) {
        let WarmFuse { cold_ohms, rating_amps, growth } = *fuse;
        let growth = growth / (rating_amps * rating_amps);
        self.by_current(from, to, |i| format!("{cold_ohms:e}*{i}*(1 + {growth:e}*{i}*{i})"));
    }

    /// I = G V (1 + |G V / limit|^8)^(−1/8), and a millionth of G V beyond.
    fn limited(&mut self, from: &str, to: &str, output: &Limited) {
        let at = self.number();
        let straight = format!("v({from},{to})/{:e}", output.on_ohms);
        let limit = output.limit_amps;
        self.line(&format!(
            "b{at} {from} {to} i={{{straight}*(pow(1 + pow(abs({straight}/{limit:e}), 8), -0.125) + 1e-6)}}"
        ));
    }

    /// ngspice's own junction. Below minus three slopes it has a cubic in place of the exponential; the difference is
    /// put beside it. Above a thousand amps the model continues by a tangent, which no circuit compared here reaches.
    fn diode(&mut self, from: &str, to: &str, diode: &Diode) {
        let at = self.number();
        let Diode { saturation_amps, slope_volts } = *diode;
        let emission = slope_volts / THERMAL_VOLTS;
        self.line(&format!("d{at} {from} {to} junction{at}"));
        self.line(&format!(".model junction{at} d is={saturation_amps:e} n={emission:e}"));
        let end = -3.0 * slope_volts;
        let back = format!("min(v({from},{to}), {end:e})");
        let cubic = format!("({:e}/{back})", -end / std::f64::consts::E);
        self.line(&format!(
            "b{at} {from} {to} i={{{saturation_amps:e}*(exp({back}/{slope_volts:e}) + {cubic}*{cubic}*{cubic})}}"
        ));
    }

    /// Adds a coil without current at the beginning, and returns its current's name.
    pub(crate) fn coil(&mut self, from: &str, to: &str, ohms: f64, henries: f64) -> String {
        let at = self.number();
        self.line(&format!("v{at} {from} x{at} dc 0"));
        self.line(&format!("r{at} x{at} y{at} {ohms:e}"));
        self.line(&format!("l{at} y{at} {to} {henries:e} ic=0"));
        format!("i(v{at})")
    }

    /// Adds a motor at rest: its winding, and for its inertia a capacitance that dry friction and drag discharge. Returns
    /// its current's and its speed's names.
    ///
    /// Dry friction turns round within a tenth of a millivolt of speed to either side.
    pub(crate) fn motor(
        &mut self,
        from: &str,
        to: &str,
        [ohms, henries, inertia_farads]: [f64; 3],
        [idle_amps, slope_siemens]: [f64; 2],
    ) -> [String; 2] {
        let at = self.number();
        let speed = format!("v(e{at},{to})");
        let amps = self.coil(from, &format!("e{at}"), ohms, henries);
        self.line(&format!("c{at} e{at} {to} {inertia_farads:e} ic=0"));
        self.line(&format!(
            "b{at} e{at} {to} i={{{idle_amps:e}*max(-1, min(1, {speed}/1e-4)) + {slope_siemens:e}*{speed}}}"
        ));
        // A copy of the speed against the reference, so that it has a name.
        self.line(&format!("b{at}s s{at} 0 v={{{speed}}}"));
        [amps, format!("v(s{at})")]
    }

    /// Adds a filament that warms up from cold, and returns its resistance's name: a capacitance that V² / R charges and
    /// that gives off P_rated (R / R_rated)^(1.55/0.45), with θ = C R_rated / P_rated (1 + 1.55/0.45).
    pub(crate) fn bulb(&mut self, from: &str, to: &str, filament: &Filament, seconds: f64) -> String {
        let at = self.number();
        let exponent = (1.0 + FILAMENT_EXPONENT) / (1.0 - FILAMENT_EXPONENT);
        let (watts, cold_ohms) = (filament.rated_watts, filament.cold_ohms());
        let rated_ohms = filament.rated_volts * filament.rated_volts / watts;
        let farads = seconds * (1.0 + exponent) * watts / rated_ohms;
        let (volts, ohms) = (format!("v({from},{to})"), format!("v(o{at})"));
        self.line(&format!("b{at} {from} {to} i={{{volts}/{ohms}}}"));
        self.line(&format!("c{at} o{at} 0 {farads:e} ic={cold_ohms:e}"));
        self.line(&format!(
            "b{at}h 0 o{at} i={{{volts}*{volts}/{ohms} - {watts:e}*pow({ohms}/{rated_ohms:e}, {exponent:e})}}"
        ));
        ohms
    }

    /// Adds a switch that is closed, and has opened at this time: it takes twenty nanoseconds, and passes most of what it
    /// passed to the end.
    pub(crate) fn switch(&mut self, from: &str, to: &str, [closed_ohms, open_ohms]: [f64; 2], opens: f64) {
        let at = self.number();
        let (closed, open) = (1.0 / closed_ohms, 1.0 / open_ohms);
        let begins = opens - 2e-8;
        self.line(&format!("v{at} k{at} 0 pwl(0 1 {begins:e} 1 {opens:e} 0)"));
        self.line(&format!(
            "b{at} {from} {to} i={{v({from},{to})*({open:e} + ({closed:e} - {open:e})*v(k{at}))}}"
        ));
    }
}

/// What ngspice is asked about one circuit.
#[derive(Clone, Debug)]
pub(crate) struct Deck {
    /// The circuit.
    pub(crate) netlist: Netlist,
    /// Analyses, one after another.
    pub(crate) analyses: Vec<Analysis>,
}

/// One analysis.
#[derive(Clone, Debug)]
pub(crate) struct Analysis {
    /// Commands before it, such as `alter r1=5`.
    pub(crate) before: Vec<String>,
    /// The analysis, such as `op`.
    pub(crate) command: String,
    /// What is asked for, such as `v(n1)` or `i(v2)`.
    pub(crate) vectors: Vec<String>,
}

impl Analysis {
    /// The voltages of these nodes at rest. That of the reference is not ngspice's to tell.
    pub(crate) fn at_rest(nodes: impl IntoIterator<Item = Node>) -> Self {
        let told = nodes.into_iter().filter(|node| *node != Node::GROUND);
        Self {
            before: Vec::new(),
            command: "op".to_owned(),
            vectors: told.map(|node| format!("v({})", name(node))).collect(),
        }
    }
}

/// What an analysis gave: for each vector that was asked for, its points.
pub(crate) type Vectors = Vec<Vec<f64>>;

/// A folder of its own, removed at the end.
struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder for temporary files"))
    }

    fn write(&self, file: &str, text: &str) {
        std::fs::write(self.0.path().join(file), text).expect("a writable folder");
    }
}

/// Runs all circuits, on as many processors as there are, and returns the answers of each circuit's analyses; `None` where ngspice
/// did not find any.
pub(crate) fn run(decks: &[Deck]) -> Vec<Vec<Option<Vectors>>> {
    let parts: Vec<&[Deck]> = decks.chunks(DECKS_A_RUN).collect();
    let ran = in_parallel(&parts, available(), |part| Ok::<_, Infallible>(run_once(part)));
    ran.unwrap_or_else(|never| match never {}).into_iter().flatten().collect()
}

/// Lets one ngspice work out some of them.
fn run_once(decks: &[Deck]) -> Vec<Vec<Option<Vectors>>> {
    let folder = Folder::new();
    let mut script = "* all circuits\n.control\nset noaskquit\nset filetype=binary\n".to_owned();
    for (at, deck) in decks.iter().enumerate() {
        folder.write(&format!("c{at}.cir"), &format!("* circuit\n{}{OPTIONS}\n.end\n", deck.netlist.text()));
        writeln!(script, "source c{at}.cir").expect("text takes everything");
        for (number, analysis) in deck.analyses.iter().enumerate() {
            // An analysis that fails leaves nothing to write, once the one before it is gone.
            script.push_str("destroy all\n");
            for before in &analysis.before {
                writeln!(script, "{before}").expect("text takes everything");
            }
            let (command, vectors) = (&analysis.command, analysis.vectors.join(" "));
            writeln!(script, "{command}\nwrite c{at}a{number}.raw {vectors}").expect("text takes everything");
        }
        script.push_str("destroy all\nremcirc\n");
    }
    script.push_str("quit\n.endc\n.end\n");
    folder.write("all.sp", &script);
    let status = Command::new("ngspice")
        .args(["-b", "-n", "all.sp"])
        .current_dir(folder.0.path())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    assert!(status.is_ok_and(|status| status.success()), "ngspice did not come to its end: {INSTALL}");
    let answers = |(at, deck): (usize, &Deck)| {
        let numbered = deck.analyses.iter().enumerate();
        numbered
            .map(|(number, analysis)| {
                let raw = std::fs::read(folder.0.path().join(format!("c{at}a{number}.raw"))).ok()?;
                read_raw(&raw, &analysis.vectors)
            })
            .collect()
    };
    decks.iter().enumerate().map(answers).collect()
}

/// Reads ngspice's binary form: lines of text that name the vectors, and then numbers of eight bytes, point by point.
fn read_raw(raw: &[u8], wanted: &[String]) -> Option<Vectors> {
    const MARK: &[u8] = b"Binary:\n";
    let numbers_at = raw.windows(MARK.len()).position(|window| window == MARK)? + MARK.len();
    let header = std::str::from_utf8(&raw[..numbers_at]).ok()?;
    let known: Vec<&str> = header
        .lines()
        .skip_while(|line| !line.starts_with("Variables:"))
        .filter_map(|line| line.strip_prefix('\t')?.split('\t').nth(1))
        .collect();
    let numbers: Vec<f64> =
        raw[numbers_at..].as_chunks::<8>().0.iter().map(|bytes| f64::from_ne_bytes(*bytes)).collect();
    let column = |name: &String| {
        let at = known.iter().position(|known| known == name)?;
        Some(numbers.iter().skip(at).step_by(known.len()).copied().collect())
    };
    wanted.iter().map(column).collect()
}

/// The voltages of nodes as ngspice finds them at rest, with the reference's 0 in its place.
pub(crate) fn node_volts(vectors: &Vectors) -> Vec<f64> {
    std::iter::once(0.0).chain(vectors.iter().map(|points| points[0])).collect()
}

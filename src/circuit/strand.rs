//! A bare strand of copper under current: how long it carries how much.

/// Current that just melts a copper wire in still air, in amps, for a diameter of one millimetre; it goes with d^1.5
/// (W. H. Preece, Proc. Royal Society 36:464, 1884; from memory).
const PREECE_AMPS: f64 = 80.0;
/// I²t that melts copper before it can give off heat, in A²s, for a cross-section of one mm² (Onderdonk's formula, from
/// 20 °C; from memory). It goes with the square of the cross-section.
const ONDERDONK_AMPS_SQUARED_SECONDS: f64 = 8.44e4;

/// The steady current that melts a strand of this cross-section, in amps.
fn strand_melting_amps(square_millimetres: f64) -> f64 {
    let diameter = 2.0 * libm::sqrt(square_millimetres / std::f64::consts::PI);
    PREECE_AMPS * diameter * libm::sqrt(diameter)
}

/// Time constant of its warming, in seconds: so that a great current melts it as Onderdonk's formula has it, and a small
/// one as Preece's.
fn time_constant_seconds(square_millimetres: f64) -> f64 {
    let amps = strand_melting_amps(square_millimetres);
    ONDERDONK_AMPS_SQUARED_SECONDS * square_millimetres * square_millimetres / (amps * amps)
}

/// How near to melting a strand is after carrying `amps` for `seconds`, from `heat`: 1 melts it.
#[must_use]
pub fn strand_heat(square_millimetres: f64, amps: f64, heat: f64, seconds: f64) -> f64 {
    let load = amps / strand_melting_amps(square_millimetres);
    heat - libm::expm1(-seconds / time_constant_seconds(square_millimetres)) * (load * load - heat)
}

/// How long a strand of this cross-section still carries `amps`, from `heat`, in seconds; infinite: for ever.
#[must_use]
pub fn strand_melting_seconds(square_millimetres: f64, amps: f64, heat: f64) -> f64 {
    if heat >= 1.0 {
        return 0.0;
    }
    let load = amps / strand_melting_amps(square_millimetres);
    let aim = load * load;
    if aim <= 1.0 {
        return f64::INFINITY;
    }
    time_constant_seconds(square_millimetres) * libm::log((aim - heat) / (aim - 1.0))
}

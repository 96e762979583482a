//! Scores of what was said and done. Formulas from Gneiting and Raftery, JASA 102:359, 2007, and as stated.

/// Brier's score of stated probabilities, Σ(f − o)²: 0 is best, 2 worst.
#[must_use]
pub fn brier(stated: &[f64], truth: usize) -> f64 {
    let term = |(n, f): (usize, &f64)| {
        let off = f - f64::from(u8::from(n == truth));
        off * off
    };
    stated.iter().enumerate().map(term).sum()
}

/// −log2 of what was given to the truth, in bits; less than 0.01 counts as 0.01.
#[must_use]
pub fn log_score_bits(stated: f64) -> f64 {
    -libm::log2(stated.max(0.01))
}

/// Share of the minutes spent on choices that those choices did not lose: 1 − Σ regret/D, held between 0 and 1; 1 where
/// nothing is lost.
///
/// What is spent is V + Σ regret + Σ luck, V being what the plan expected. D is that without bad luck: the lesser of what was
/// spent and V + Σ regret. Whoever is lucky has fewer choices to make: what they lost is less, and so
/// is what it is set against. Whoever is unlucky, having a dear repair to make, say, has nothing more to set it against.
#[must_use]
pub fn well_spent(planned_minutes: f64, spent_minutes: f64, regrets: &[f64]) -> f64 {
    let lost: f64 = regrets.iter().sum();
    if lost <= 0.0 {
        return 1.0;
    }
    let against = spent_minutes.min(planned_minutes + lost);
    (1.0 - lost / against.max(f64::MIN_POSITIVE)).max(0.0)
}

/// Expected cost of looking at the parts in an order and repairing the broken one (Heckerman, Breese, Rommelse, CACM
/// 38(3):49, 1995): Σ (1 − Σ_{j<i} p_j)·c_i + p_i·r_i, with c to inspect and r to repair.
#[must_use]
pub fn cost_of_order(order: &[usize], chance: &[f64], inspect: &[f64], repair: &[f64]) -> f64 {
    let mut left = 1.0;
    let mut cost = 0.0;
    for &part in order {
        cost += left * inspect[part] + chance[part] * repair[part];
        left -= chance[part];
    }
    cost
}

/// The order of highest p/c first: the best for one fault, perfect inspection and costs that do not depend on the order.
#[must_use]
pub fn order_of_repair(chance: &[f64], inspect: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..chance.len()).collect();
    order.sort_by(|&a, &b| (chance[b] * inspect[a]).total_cmp(&(chance[a] * inspect[b])));
    order
}

/// How often something has to be tried that shows in this share of tries, above 0, so that missing it every time is no
/// likelier than `miss`: the least n with (1 − share)ⁿ ≤ miss. From a share of 0.99 on once is enough for any miss of
/// 0.01 and more.
#[must_use]
pub fn tries_to_show(share: f64, miss: f64) -> usize {
    let tries = libm::ceil(libm::log(miss) / libm::log(1.0 - share.min(0.99)));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count; a share near 0 asks for more than there is time"
    )]
    let tries = tries as usize;
    tries
}

//! How reliable a paper is: item difficulty and discrimination, Cronbach's alpha, each with its standard error.

/// A mean and its standard error; the error is unknown where there are fewer than two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Its standard error.
    pub error: Option<f64>,
}

/// What is to be said of an item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// The mean share earned, 0 to 1: the higher, the easier.
    pub difficulty: Estimate,
    /// How it goes with the sum of all other items: Pearson's correlation; `None` where one of both never varies.
    pub discrimination: Option<Estimate>,
}

/// Mean of a list.
#[must_use]
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// Covariance of two lists, by n − 1; variance where both are the same.
#[must_use]
pub fn covariance(a: &[f64], b: &[f64]) -> f64 {
    let (of_a, of_b) = (mean(a), mean(b));
    let sum: f64 = a.iter().zip(b).map(|(a, b)| (a - of_a) * (b - of_b)).sum();
    sum / (a.len().max(2) - 1) as f64
}

/// A mean, with the standard error s/√n.
#[must_use]
pub fn estimated_mean(values: &[f64]) -> Estimate {
    let error = (values.len() > 1).then(|| (covariance(values, values) / values.len() as f64).sqrt());
    Estimate { value: mean(values), error }
}

/// Pearson's correlation, with the standard error (1 − r²)/√(n − 1) (the usual large-sample one).
#[must_use]
pub fn correlation(a: &[f64], b: &[f64]) -> Option<Estimate> {
    let spread = (covariance(a, a) * covariance(b, b)).sqrt();
    if a.len() < 3 || spread <= f64::EPSILON {
        return None;
    }
    let r = (covariance(a, b) / spread).clamp(-1.0, 1.0);
    Some(Estimate { value: r, error: Some((1.0 - r * r) / ((a.len() - 1) as f64).sqrt()) })
}

/// Items of a table: a row for each person, a column for each item.
#[must_use]
pub fn items(table: &[Vec<f64>]) -> Vec<Item> {
    let count = table.first().map_or(0, Vec::len);
    let column = |item: usize| -> Vec<f64> { table.iter().map(|row| row[item]).collect() };
    (0..count)
        .map(|item| {
            let own = column(item);
            let rest: Vec<f64> =
                table.iter().zip(&own).map(|(row, own)| row.iter().sum::<f64>() - own).collect();
            let discrimination = (count > 1).then(|| correlation(&own, &rest)).flatten();
            Item { difficulty: estimated_mean(&own), discrimination }
        })
        .collect()
}

/// Cronbach's alpha of a table, a row for each person. Its standard error is the asymptotic one of van Zyl, Neudecker and
/// Nel (Psychometrika 65:271, 2000): it supposes normal marks, not equal items. `None` with fewer than two items or three
/// persons, or where nothing varies.
#[must_use]
pub fn alpha(table: &[Vec<f64>]) -> Option<Estimate> {
    let (n, k) = (table.len(), table.first().map_or(0, Vec::len));
    if n < 3 || k < 2 {
        return None;
    }
    let columns: Vec<Vec<f64>> = (0..k).map(|item| table.iter().map(|row| row[item]).collect()).collect();
    let v: Vec<Vec<f64>> =
        columns.iter().map(|a| columns.iter().map(|b| covariance(a, b)).collect()).collect();
    let trace: f64 = (0..k).map(|at| v[at][at]).sum();
    let whole: f64 = v.iter().flatten().sum();
    if whole <= f64::EPSILON {
        return None;
    }
    let k_of = k as f64 / (k - 1) as f64;
    // Of V²: its trace is the sum of all squares, and the sum of all of it the sum of the squares of V's row sums.
    let trace_of_square: f64 = v.iter().flatten().map(|one| one * one).sum();
    let whole_of_square: f64 = v.iter().map(|row| row.iter().sum::<f64>()).map(|sum| sum * sum).sum();
    let q = 2.0 * k_of * k_of / (whole * whole * whole)
        * (whole * (trace_of_square + trace * trace) - 2.0 * trace * whole_of_square);
    Some(Estimate { value: k_of * (1.0 - trace / whole), error: Some((q.max(0.0) / n as f64).sqrt()) })
}

#[cfg(test)]
mod tests {
    use super::{alpha, correlation, items};

    /// Five persons, three items; worked out by hand from the definitions: variances 2.5, 1.3 and 2.7, of the sum 17.7,
    /// so alpha = 3/2 · (1 − 6.5/17.7).
    #[test]
    fn a_worked_table() {
        let table: Vec<Vec<f64>> =
            [[1.0, 2.0, 1.0], [2.0, 2.0, 3.0], [3.0, 3.0, 2.0], [4.0, 3.0, 5.0], [5.0, 5.0, 4.0]]
                .iter()
                .map(|row| row.to_vec())
                .collect();
        let of_sum: Vec<f64> = table.iter().map(|row| row.iter().sum()).collect();
        let whole = super::covariance(&of_sum, &of_sum);
        let trace: f64 = (0..3)
            .map(|item| {
                let column: Vec<f64> = table.iter().map(|row| row[item]).collect();
                super::covariance(&column, &column)
            })
            .sum();
        assert!((trace - 6.5).abs() < 1e-12, "{trace}");
        let found = alpha(&table).expect("it varies");
        assert!((found.value - 1.5 * (1.0 - trace / whole)).abs() < 1e-12);
        assert!((items(&table)[0].difficulty.value - 3.0).abs() < 1e-12);
    }

    /// Items that are all the same have alpha 1, without error; such as have nothing to do with each other 0.
    #[test]
    fn the_two_ends_of_alpha() {
        let same: Vec<Vec<f64>> = (0..9).map(|at| vec![f64::from(at); 4]).collect();
        let found = alpha(&same).expect("it varies");
        assert!((found.value - 1.0).abs() < 1e-12 && found.error.expect("an error") < 1e-6, "{found:?}");
        let apart: Vec<Vec<f64>> =
            (0..8).map(|at| (0..3).map(|bit| f64::from(at >> bit & 1)).collect()).collect();
        assert!(alpha(&apart).expect("it varies").value.abs() < 1e-12);
        assert_eq!(alpha(&same[..2]), None);
        assert_eq!(correlation(&[1.0, 1.0, 1.0], &[1.0, 2.0, 3.0]), None);
    }
}

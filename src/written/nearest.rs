//! What a misspelt word was probably meant to be.

/// The known word nearest to `word`, if it is near: at most a third of its letters wrong, missing,
/// superfluous or changed round with their neighbour. Capitals count for nothing.
pub fn nearest<'a>(word: &str, among: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = |word: &str| word.to_lowercase().chars().collect::<Vec<_>>();
    let word = letters(word);
    among
        .filter_map(|known| {
            let letters = letters(known);
            let limit = word.len().max(letters.len()) / 3;
            // The lengths first: a word may be as long as the file.
            let near = word.len().abs_diff(letters.len()) <= limit;
            let distance = if near { distance(&word, &letters) } else { usize::MAX };
            (distance <= limit).then_some((distance, known))
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, known)| known)
}

/// The edit distance, an exchange of neighbours being one edit.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 0..a.len() {
        let mut row = vec![i + 1];
        for j in 0..b.len() {
            let changed = last[j] + usize::from(a[i] != b[j]);
            let mut least = changed.min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && a[i] == b[j - 1] && a[i - 1] == b[j] {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

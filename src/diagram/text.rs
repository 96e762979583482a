//! How much room text takes.

/// Advance widths of the characters from space to tilde, in thousandths of the size: those of a wide sans-serif face
/// (DejaVu Sans), so that other faces take less.
const WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637, 637,
    637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632, 576, 775, 752, 295,
    295, 656, 558, 863, 749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838,
    500, 500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, 635, 635, 412, 521,
    393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
];
/// What any other character is taken to be.
const OTHER: u16 = 1000;

/// The width of a line of text of this size, rounded up.
pub(super) fn width(text: &str, size: i32) -> i32 {
    let thousandths: i32 = text
        .chars()
        .map(|c| {
            let at = u32::from(c).checked_sub(32).and_then(|at| usize::try_from(at).ok());
            i32::from(at.and_then(|at| WIDTHS.get(at)).copied().unwrap_or(OTHER))
        })
        .sum();
    (thousandths * size + 999) / 1000
}

/// Lines of at most `most` units where words allow it; a name is also parted behind its hyphens.
pub(super) fn wrapped(text: &str, size: i32, most: i32) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in text.split_inclusive([' ', '-']) {
        match lines.last_mut() {
            Some(line) if width(&format!("{line}{}", piece.trim_end()), size) <= most => line.push_str(piece),
            _ => lines.push(piece.to_owned()),
        }
    }
    lines.iter_mut().for_each(|line| line.truncate(line.trim_end().len()));
    lines
}

/// The width of the widest line.
pub(super) fn widest(lines: &[String], size: i32) -> i32 {
    lines.iter().map(|line| width(line, size)).max().unwrap_or(0)
}

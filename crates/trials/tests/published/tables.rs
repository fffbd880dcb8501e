//! Tables of published figures: comment lines and the heading left out.

use measure::parse_inches;

/// The cells of a table, row by row.
pub fn rows(table: &str) -> Vec<Vec<&str>> {
    let lines = table
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .skip(1);
    lines.map(|line| line.split(',').map(str::trim).collect()).collect()
}

/// A figure as printed, such as `2 7/8`, in inches.
pub fn inches(printed: &str) -> f64 {
    parse_inches(printed, 1.0).unwrap_or_else(|_| panic!("{printed} is no length"))
}

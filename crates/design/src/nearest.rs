//! The nearest of the names that would have been right, for a word that is none of them.

/// The known name closest to `word`, when it is close enough to be what was meant.
pub(crate) fn nearest<'k>(word: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let word: Vec<char> = word.chars().take(64).collect();
    let reach = (word.len() / 3).max(1) + 1;
    known
        .into_iter()
        .map(|name| (changes(&word, name), name))
        .filter(|(count, _)| *count <= reach)
        .min()
        .map(|(_, name)| name)
}

/// How many letters must be added, dropped or changed (the edit distance of Levenshtein, 1966).
fn changes(word: &[char], name: &str) -> usize {
    let name: Vec<char> = name.chars().take(64).collect();
    let mut row: Vec<usize> = (0..=name.len()).collect();
    for (i, a) in word.iter().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, b) in name.iter().enumerate() {
            let same = diagonal + usize::from(a != b);
            diagonal = row[j + 1];
            row[j + 1] = same.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[name.len()]
}

/// "one of a, b, c", or the nearest alone when there is one.
pub(crate) fn suggestion(word: &str, known: &[&str], what: &str) -> String {
    match nearest(word, known.iter().copied()) {
        Some(name) => format!("{what} such as \"{name}\""),
        None if known.is_empty() => format!("{what}, and the file has none"),
        None if known.len() <= 30 => format!("one of {}", known.join(", ")),
        None => what.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_name() {
        assert_eq!(nearest("sasing", ["sashing", "border", "fill"]), Some("sashing"));
        assert_eq!(nearest("colour", ["color", "price"]), Some("color"));
        assert_eq!(nearest("zebra", ["color", "price"]), None);
        assert_eq!(nearest("", ["color"]), None);
    }
}

//! Counting words.

/// `1 strip`, `3 strips`: the noun's regular plural.
pub fn counted(count: u64, noun: &str) -> String {
    format!("{count} {}", plural(count, noun))
}

/// The noun alone, as one or as many.
pub fn plural(count: u64, noun: &str) -> String {
    if count == 1 {
        return noun.to_string();
    }
    // "Unit with flipped corners": likewise.
    if let Some(with) = noun.find(" with ") {
        return format!("{}{}", plural(count, &noun[..with]), &noun[with..]);
    }
    if let Some(of) = noun.find(" of ") {
        // "half of a square" becomes "halves of a square": only the head noun changes.
        return format!("{}{}", plural(count, &noun[..of]), &noun[of..]);
    }
    match noun {
        "half" => "halves".into(),
        "goose" => "geese".into(),
        "Goose" => "Geese".into(),
        _ if noun.ends_with('s') || noun.ends_with("ch") || noun.ends_with("sh") => format!("{noun}es"),
        _ => format!("{noun}s"),
    }
}

/// Small counts in words: `once`, `twice`, `3 times`.
pub fn times(count: u64) -> String {
    match count {
        1 => "once".into(),
        2 => "twice".into(),
        n => format!("{n} times"),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nouns_in_number() {
        assert_eq!(counted(1, "strip"), "1 strip");
        assert_eq!(counted(0, "strip"), "0 strips");
        assert_eq!(counted(2, "inch"), "2 inches");
        assert_eq!(counted(4, "half of a square"), "4 halves of a square");
        assert_eq!(times(2), "twice");
        assert_eq!(listed(&["A1".into(), "A2".into(), "B".into()]), "A1, A2 and B");
    }

    #[test]
    fn the_trade_counts_oddly() {
        assert_eq!(counted(2, "Goose"), "2 Geese");
        assert_eq!(counted(1, "Goose"), "1 Goose");
        assert_eq!(counted(3, "Unit with flipped corners"), "3 Units with flipped corners");
    }
}

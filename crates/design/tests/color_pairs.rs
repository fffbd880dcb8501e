//! The colour difference against the published pairs.

use design::lab_difference;

/// Source: Sharma, Wu, Dalal 2005, Table 1 (34 pairs, given to four decimals).
#[test]
fn the_published_pairs() {
    let path = format!(
        "{}/../../tests/outside/data/ciede2000_sharma2005.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let table = std::fs::read_to_string(path).unwrap();
    let mut pairs = 0;
    for line in table.lines().filter(|l| l.starts_with(|c: char| c.is_ascii_digit())) {
        let n: Vec<f64> = line.split(',').map(|f| f.trim().parse().unwrap()).collect();
        let (a, b) = ([n[1], n[2], n[3]], [n[4], n[5], n[6]]);
        let there = lab_difference(a, b);
        let back = lab_difference(b, a);
        assert!((there - n[7]).abs() <= 0.000_05, "pair {}: {there} for {}", n[0], n[7]);
        assert!((there - back).abs() < 1e-9, "pair {}: {there} there, {back} back", n[0]);
        pairs += 1;
    }
    assert_eq!(pairs, 34);
}

//! Large blocks that make the most work for their size.

use super::Wanted;
use super::author::Author;
use super::outlines::{Corner, distance, rectangle};
use std::collections::{BTreeMap, BinaryHeap};

/// One block of so many patches, all different, alone in its quilt: what makes the most work for its size. Always the
/// longest patch is cut next, so that few are too large for their cloth.
pub fn free_form(patches: usize) -> String {
    let side = (3.0 * (patches as f64).sqrt()).ceil();
    let wanted = Wanted {
        seed: 1,
        on_marks: false,
        patches,
        rows: 1,
        columns: 1,
        nested: false,
        framed: false,
        round_corners: false,
        on_paper: false,
        units: false,
        laid: false,
    };
    let mut author = Author::new(wanted);
    let mut pieces = vec![rectangle(side, side)];
    let rank = |piece: &[Corner], i: usize| {
        let widest = piece
            .iter()
            .flat_map(|&a| piece.iter().map(move |&b| distance(a, b)))
            .fold(0.0, f64::max);
        ((widest * 1.0e6) as u64, i)
    };
    let mut uncut = BinaryHeap::from([rank(&pieces[0], 0)]);
    let mut corners = Corners::default();
    while pieces.len() < patches
        && let Some((_, at)) = uncut.pop()
    {
        // Corners of neighbours that nearly meet on one edge would be welded: cut elsewhere.
        let cut = (0..40).find_map(|_| {
            let (a, b) = author.cut(&pieces[at])?;
            let fresh = [a[0], a[a.len() - 1]];
            fresh.iter().all(|&c| corners.keeps_off(c)).then_some((a, b, fresh))
        });
        if let Some((a, b, fresh)) = cut {
            fresh.into_iter().for_each(|c| corners.add(c));
            uncut.extend([rank(&a, at), rank(&b, pieces.len())]);
            pieces[at] = a;
            pieces.push(b);
        }
    }
    author.begin("Free form");
    let block = author.written("free-form", side, side, &pieces, false);
    author.text + &block + "[layout]\nkind = \"straight\"\nrows = [[\"free-form\"]]\n"
}

/// Corners drawn so far, in cells of 1/8 in.
#[derive(Default)]
struct Corners(BTreeMap<(i64, i64), Vec<Corner>>);

impl Corners {
    fn cell((x, y): Corner) -> (i64, i64) {
        ((x * 8.0).floor() as i64, (y * 8.0).floor() as i64)
    }

    fn add(&mut self, corner: Corner) {
        self.0.entry(Corners::cell(corner)).or_default().push(corner);
    }

    /// Whether a corner is on one of them, or 1/16 in from all.
    fn keeps_off(&self, corner: Corner) -> bool {
        let (x, y) = Corners::cell(corner);
        (x - 1..=x + 1)
            .flat_map(|x| (y - 1..=y + 1).filter_map(move |y| self.0.get(&(x, y))))
            .flatten()
            .map(|&other| distance(other, corner))
            .all(|d| d <= 1.0e-9 || d > 1.0 / 16.0)
    }
}

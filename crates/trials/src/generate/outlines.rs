//! Outlines of patches as they are generated: corners in inches, y down.

/// A corner.
pub(super) type Corner = (f64, f64);

pub(super) fn rectangle(width: f64, height: f64) -> Vec<Corner> {
    vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
}

/// The place so far from `from` toward `to`.
pub(super) fn along(from: Corner, to: Corner, by: f64) -> Corner {
    let length = distance(from, to);
    (
        from.0 + (to.0 - from.0) * by / length,
        from.1 + (to.1 - from.1) * by / length,
    )
}

pub(super) fn without_doubles(corners: Vec<Corner>) -> Vec<Corner> {
    let mut kept: Vec<Corner> = Vec::new();
    for c in corners {
        if kept.last().is_none_or(|&l| distance(l, c) > 1e-9) {
            kept.push(c);
        }
    }
    while kept.len() > 1 && distance(kept[0], kept[kept.len() - 1]) <= 1e-9 {
        kept.pop();
    }
    kept
}

pub(super) fn distance(a: Corner, b: Corner) -> f64 {
    ((a.0 - b.0).powi(2) + (a.1 - b.1).powi(2)).sqrt()
}

pub(super) fn area(piece: &[Corner]) -> f64 {
    let n = piece.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let (a, b) = (piece[i], piece[(i + 1) % n]);
            a.0 * b.1 - b.0 * a.1
        })
        .sum();
    (twice / 2.0).abs()
}

/// Large enough to sew: no edge under 3/4 in, nowhere narrower than 1/2 in, no angle under about 20°, no corner flat.
pub(super) fn fair(piece: &[Corner]) -> bool {
    let n = piece.len();
    if n < 3 {
        return false;
    }
    (0..n).all(|i| {
        let (a, b, c) = (piece[(i + n - 1) % n], piece[i], piece[(i + 1) % n]);
        let (u, v) = ((a.0 - b.0, a.1 - b.1), (c.0 - b.0, c.1 - b.1));
        let (lu, lv) = (distance(a, b), distance(b, c));
        if lu < 0.75 || lv < 0.75 {
            return false;
        }
        let cos = (u.0 * v.0 + u.1 * v.1) / (lu * lv);
        let height = |k: usize| {
            let p = piece[k];
            ((c.0 - b.0) * (p.1 - b.1) - (c.1 - b.1) * (p.0 - b.0)).abs() / lv
        };
        let narrow = (0..n).map(height).fold(0.0, f64::max);
        cos < 0.94 && cos > -0.999 && narrow >= 0.5
    })
}

pub(super) fn as_rectangle(piece: &[Corner]) -> Option<(f64, f64, f64, f64)> {
    if piece.len() != 4 {
        return None;
    }
    let low = piece
        .iter()
        .fold((f64::MAX, f64::MAX), |m, c| (m.0.min(c.0), m.1.min(c.1)));
    let high = piece
        .iter()
        .fold((f64::MIN, f64::MIN), |m, c| (m.0.max(c.0), m.1.max(c.1)));
    let (w, h) = (high.0 - low.0, high.1 - low.1);
    ((area(piece) - w * h).abs() < 1e-9).then_some((low.0, low.1, w, h))
}

/// What of an outline lies within a box from nothing, nothing.
pub(super) fn within_box(mut outline: Vec<Corner>, wide: f64, high: f64) -> Vec<Corner> {
    let sides: [fn(Corner, f64, f64) -> f64; 4] = [|c, _, _| c.0, |c, w, _| w - c.0, |c, _, _| c.1, |c, _, h| h - c.1];
    for inside in sides {
        let n = outline.len();
        let mut kept: Vec<Corner> = Vec::new();
        for i in 0..n {
            let (a, b) = (outline[i], outline[(i + 1) % n]);
            let (da, db) = (inside(a, wide, high), inside(b, wide, high));
            if da > -1.0e-9 {
                kept.push(a);
            }
            if (da > 1.0e-9 && db < -1.0e-9) || (da < -1.0e-9 && db > 1.0e-9) {
                let t = da / (da - db);
                kept.push((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t));
            }
        }
        outline = kept;
    }
    let area: f64 = (0..outline.len())
        .map(|i| {
            let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
            a.0 * b.1 - b.0 * a.1
        })
        .sum();
    if area.abs() < 1.0e-6 { Vec::new() } else { outline }
}

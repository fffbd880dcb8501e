//! An outline of any simple shape made larger all round: the cut line of a piece whose edge is turned under.

use shape::{Line, Point, Polygon, Vector};

/// Edges that turn by less than this (as a sine) run straight on.
const STRAIGHT: f64 = 1.0e-7;

/// Places nearer than this are one.
const SAME: f64 = 1.0e-11;

/// A point whose cut tip would reach out further than this many turn-unders is cut off square.
const LONGEST_TIP: f64 = 2.0;

/// So far out, in turn-unders.
const TIP: f64 = 1.5;

/// The outline with edge `i` moved out by `by[i]`. At points the moved edges are drawn out until they cross, long tips cut off square; hollow
/// corners and narrow clefts close as far as they must. `None` when nothing sensible comes of it.
pub fn outset(outline: &Polygon, by: &[f64]) -> Option<Polygon> {
    let raw = raw(outline, by)?;
    let corners = outer(&raw)?;
    let mut kept: Vec<Point> = Vec::with_capacity(corners.len());
    for c in corners {
        if kept.last().is_none_or(|l| l.distance(c) > 1.0e-7) {
            kept.push(c);
        }
    }
    while kept.len() > 3 && kept[0].distance(kept[kept.len() - 1]) <= 1.0e-7 {
        kept.pop();
    }
    let grown = Polygon::new(kept);
    (grown.len() >= 3 && grown.signed_area() >= outline.signed_area() - 1.0e-9).then_some(grown)
}

/// Every edge moved out, joined at the points; at a hollow corner by way of the corner itself, so that the loops this makes lie
/// inside.
fn raw(outline: &Polygon, by: &[f64]) -> Option<Vec<Point>> {
    let n = outline.len();
    let mut points = Vec::with_capacity(3 * n);
    for i in 0..n {
        let before = (i + n - 1) % n;
        let (p, e) = (outline.edge(before)?, outline.edge(i)?);
        let corner = outline.corner(i);
        let ends = [corner - p.along.left() * by[before], corner - e.along.left() * by[i]];
        let turn = p.along.cross(e.along);
        if turn.abs() < STRAIGHT && p.along.dot(e.along) > 0.0 {
            points.extend(ends);
        } else if turn < 0.0 {
            points.extend([ends[0], corner, ends[1]]);
        } else {
            let lines = [p.moved_left(-by[before]), e.moved_left(-by[i])];
            let longest = LONGEST_TIP * by[before].max(by[i]);
            match lines[0].crossing(lines[1]) {
                Some(tip) if tip.distance(corner) <= longest.max(SAME) => points.push(tip),
                Some(tip) => {
                    let out = (tip - corner).unit()?;
                    let square = Line {
                        through: corner + out * (TIP * by[before].max(by[i])),
                        along: out.left(),
                    };
                    points.extend([lines[0].crossing(square)?, square.crossing(lines[1])?]);
                }
                // Running straight back: a spike, which no simple outline has.
                None => points.extend(ends),
            }
        }
    }
    points.dedup_by(|a, b| a.distance(*b) <= SAME);
    while points.len() > 1 && points[0].distance(points[points.len() - 1]) <= SAME {
        points.pop();
    }
    (points.len() >= 3).then_some(points)
}

/// Walks round the outside of a closed line that crosses itself: wherever stretches meet, along the one furthest to the right.
fn outer(points: &[Point]) -> Option<Vec<Point>> {
    let n = points.len();
    let lowest = (0..n).min_by(|&i, &j| {
        let (a, b) = (points[i], points[j]);
        a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x))
    })?;
    let lines: Vec<(Line, f64)> = (0..n)
        .map(|k| {
            let (a, b) = (points[k], points[(k + 1) % n]);
            Some((Line::between(a, b)?, a.distance(b)))
        })
        .collect::<Option<_>>()?;
    let start = points[lowest];
    let mut walk = vec![start];
    // At the lowest place everything lies to the left of going right.
    let (mut on, mut at) = leave(&lines, start, Vector::new(1.0, 0.0))?;
    for _ in 0..16 * n + 64 {
        let (line, length) = lines[on];
        let mut ahead = length;
        for &(other, other_length) in &lines {
            let turn = line.along.cross(other.along);
            if turn.abs() < 1.0e-12 {
                continue;
            }
            let reach = (other.through - line.through).cross(other.along) / turn;
            if reach <= at + SAME || reach >= ahead {
                continue;
            }
            let along = (line.at(reach) - other.through).dot(other.along);
            if along >= -SAME && along <= other_length + SAME {
                ahead = reach;
            }
        }
        let here = line.at(ahead);
        if here.distance(start) <= 10.0 * SAME {
            return Some(walk);
        }
        walk.push(here);
        (on, at) = leave(&lines, here, line.along)?;
    }
    None
}

/// Of the stretches that go on from a place the one furthest to the right of the way one came, and where along it the place lies.
fn leave(lines: &[(Line, f64)], here: Point, came: Vector) -> Option<(usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    for (m, &(line, length)) in lines.iter().enumerate() {
        let along = line.reach_of(here);
        if line.offset_of(here).abs() > 10.0 * SAME || along < -10.0 * SAME || along >= length - 10.0 * SAME {
            continue;
        }
        let turn = libm::atan2(came.cross(line.along), came.dot(line.along));
        let back = turn.abs() > std::f64::consts::PI - 1.0e-9;
        if !back && best.is_none_or(|(least, _, _)| turn < least) {
            best = Some((turn, m, along.max(0.0)));
        }
    }
    best.map(|(_, m, along)| (m, along))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(corners: &[(f64, f64)]) -> Polygon {
        Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect())
    }

    fn even(outline: &Polygon, by: f64) -> Polygon {
        outset(outline, &vec![by; outline.len()]).unwrap()
    }

    #[test]
    fn a_square_and_an_l() {
        // *derived*: (2 + 2/4)^2; an L of area 7 grown by 1/4 is the L of the outer sides grown by 1/2.
        assert!((even(&Polygon::rectangle(2.0, 2.0), 0.25).signed_area() - 6.25).abs() < 1e-9);
        let l = of(&[(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 4.0), (0.0, 4.0)]);
        let grown = even(&l, 0.25);
        assert_eq!(grown.len(), 6);
        assert!((grown.signed_area() - (4.5 * 1.5 + 1.5 * 3.0)).abs() < 1e-9);
    }

    #[test]
    fn a_circle_grows_by_twice_in_width() {
        // *derived*: diameter d + 2t, but for the chords.
        let corners: Vec<Point> = (0..96)
            .map(|i| {
                let angle = f64::from(i) * std::f64::consts::TAU / 96.0;
                Point::new(2.0 * libm::cos(angle), 2.0 * libm::sin(angle))
            })
            .collect();
        let (low, high) = even(&Polygon::new(corners), 0.1875).bounds();
        assert!((high.x - low.x - 4.375).abs() < 3e-4, "{}", high.x - low.x);
    }

    #[test]
    fn a_cleft_narrower_than_the_turn_unders_closes() {
        // *derived*: a cleft 1/4 wide between two arms, grown by 3/16 all round: the arms' cut lines cross, and the whole is a
        // rectangle of 3 3/8 by 2 3/8 with nothing missing.
        let cleft = of(&[
            (0.0, 0.0),
            (3.0, 0.0),
            (3.0, 2.0),
            (1.625, 2.0),
            (1.625, 0.5),
            (1.375, 0.5),
            (1.375, 2.0),
            (0.0, 2.0),
        ]);
        assert!((even(&cleft, 0.1875).signed_area() - 3.375 * 2.375).abs() < 1e-9);
        // A wide one stays open: 1 wide, 1 1/2 deep, its floor comes up and its sides come in.
        let wide = of(&[
            (0.0, 0.0),
            (3.0, 0.0),
            (3.0, 2.0),
            (2.0, 2.0),
            (2.0, 0.5),
            (1.0, 0.5),
            (1.0, 2.0),
            (0.0, 2.0),
        ]);
        assert!((even(&wide, 0.1875).signed_area() - (3.375 * 2.375 - 0.625 * 1.5)).abs() < 1e-9);
    }

    #[test]
    fn long_tips_are_cut_off_square() {
        // *derived*: at a point of 30 degrees the edges cross 3.86 turn-unders out; cut off at 1 1/2.
        let point = of(&[
            (0.0, 0.0),
            (4.0 * libm::tan(std::f64::consts::PI / 12.0), 4.0),
            (-4.0 * libm::tan(std::f64::consts::PI / 12.0), 4.0),
        ]);
        let grown = even(&point, 0.2);
        let (low, _) = grown.bounds();
        assert!((low.y + 0.3).abs() < 1e-9, "{}", low.y);
        // the point's two and two at the others (75 degrees: 1.64 out) as they cross
        assert_eq!(grown.len(), 4);
    }

    #[test]
    fn edges_may_stay_where_they_are() {
        let square = Polygon::rectangle(2.0, 2.0);
        let grown = outset(&square, &[0.0, 0.25, 0.25, 0.0]).unwrap();
        assert!((grown.signed_area() - 2.25 * 2.25).abs() < 1e-9);
        assert_eq!(grown.bounds().0, Point::ORIGIN);
    }
}

//! Which outlines are alike: the same up to turning, or each other's mirror image.

use crate::{Motion, Point, Polygon};

/// How two outlines are alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Alike {
    /// This motion (without turning over) carries the first onto the second, corner 0 to corner `shift`.
    Turned {
        /// The motion.
        motion: Motion,
        /// Which corner of the second corner 0 of the first lies on.
        shift: usize,
    },
    /// Only a mirror image fits: the second is the first's *twin*.
    Twin,
}

/// Compares two outlines corner by corner within `weld` inches. A shape equal to its own mirror image (not handed)
/// is [`Alike::Turned`].
pub fn alike(a: &Polygon, b: &Polygon, weld: f64) -> Option<Alike> {
    if a.len() != b.len() || a.len() < 3 {
        return None;
    }
    if let Some((motion, shift)) = fit(a, b, weld) {
        return Some(Alike::Turned { motion, shift });
    }
    let mirrored = Motion::flip().polygon(a);
    fit(&mirrored, b, weld).map(|_| Alike::Twin)
}

/// Whether the outline differs from its mirror image.
pub fn is_handed(a: &Polygon, weld: f64) -> bool {
    fit(&Motion::flip().polygon(a), a, weld).is_none()
}

fn fit(a: &Polygon, b: &Polygon, weld: f64) -> Option<(Motion, usize)> {
    let n = a.len();
    let from = a.edge(0)?;
    (0..n).find_map(|shift| {
        let onto = b.edge(shift)?;
        let motion = Motion::line_to_line(from, onto, false);
        let close = |i: usize| -> bool {
            let moved: Point = motion.point(a.corner(i));
            moved.distance(b.corner(i + shift)) <= weld
        };
        (0..n).all(close).then_some((motion, shift))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leaning_piece_has_a_twin() {
        let leaning = Polygon::new(vec![
            Point::ORIGIN,
            Point::new(4.0, 0.0),
            Point::new(2.5, 3.0),
            Point::new(0.0, 3.0),
        ]);
        let twin = Motion::flip().polygon(&leaning);
        assert!(is_handed(&leaning, 1e-6));
        assert_eq!(alike(&leaning, &twin, 1e-6), Some(Alike::Twin));
        let turned = Motion::turn_degrees(40.0).polygon(&leaning);
        assert!(matches!(
            alike(&leaning, &turned, 1e-6),
            Some(Alike::Turned { shift: 0, .. })
        ));
        assert!(!is_handed(&Polygon::rectangle(2.0, 3.0), 1e-6));
    }
}

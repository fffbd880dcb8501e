//! What happens after the top: binding, backing and batting in figures.

use book::{Binding, Finish, SheetSize};
use design::Design;
use measure::Length;
use recipe::{Bought, CutPlan};
use shape::Point;
use terms::{FabricId, TopPicture};

/// Binding beyond the perimeter, for the corners and the closing (common practice: 10 to 20 in).
const BEYOND_PERIMETER: f64 = 10.0;

/// The figures of the finish, as far as the design asks for them.
pub fn finish(design: &Design, picture: &TopPicture, cutting: &CutPlan, bought: &Bought) -> Finish {
    let (low, high): (Point, Point) = picture.outer.bounds();
    let (width, height) = (high.x - low.x, high.y - low.y);
    let wanted = |what: &str| !design.finish.skip.iter().any(|skipped| skipped == what);
    let beyond = |over: f64| {
        Some(SheetSize {
            width: Length::nearest(width + 2.0 * over)?,
            height: Length::nearest(height + 2.0 * over)?,
        })
    };
    Finish {
        binding: wanted("binding")
            .then(|| binding(design, 2.0 * (width + height), cutting, bought))
            .flatten(),
        backing: wanted("backing")
            .then(|| {
                let fabric = design.finish.backing.clone()?;
                Some((fabric, beyond(design.finish.backing_over)?))
            })
            .flatten(),
        batting: (wanted("batting") && design.finish.batting)
            .then(|| beyond(design.finish.batting_over))
            .flatten(),
    }
}

fn binding(design: &Design, perimeter: f64, cutting: &CutPlan, bought: &Bought) -> Option<Binding> {
    let asked = design.finish.binding.as_ref()?;
    let fabric = design.fabric(&asked.fabric)?;
    let length = Length::nearest(perimeter + BEYOND_PERIMETER)?;
    let strip = Length::nearest(asked.strip)?;
    let usable = Length::nearest(fabric.usable)?;
    let strips = strips_for(length, usable, strip)?;
    let needed = strip * i64::from(strips);
    let buy = if needed <= left_over(&asked.fabric, fabric.shrink, cutting, bought) {
        None
    } else {
        let square_up = Length::nearest(fabric.square_up)?;
        Some(in_steps(
            (needed + square_up).to_inches() / (1.0 - fabric.shrink),
            fabric.step,
        )?)
    };
    Some(Binding {
        fabric: asked.fabric.clone(),
        strip,
        strips,
        bias: asked.bias,
        length,
        buy,
    })
}

/// How many strips, joined on the diagonal, reach so far: each join costs one strip's width (common practice).
/// `None` when a strip is not even as long as a join costs.
fn strips_for(length: Length, usable: Length, strip: Length) -> Option<u32> {
    let gain = (usable - strip).units();
    if gain <= 0 || strip <= Length::ZERO {
        return None;
    }
    // n strips give n · usable − (n − 1) · strip = n · gain + strip.
    let beyond_one = (length - strip).units().max(1);
    u32::try_from((beyond_one + gain - 1) / gain).ok()
}

/// What is left of a cloth's length, shrinking taken off, once the plan's strips are cut.
fn left_over(fabric: &FabricId, shrink: f64, cutting: &CutPlan, bought: &Bought) -> Length {
    let length = bought
        .cloths
        .iter()
        .find(|cloth| cloth.fabric == *fabric)
        .map(|cloth| cloth.length.len);
    let plan = cutting.cloths.iter().find(|cloth| cloth.fabric == *fabric);
    let (Some(length), Some(plan)) = (length, plan) else {
        return Length::ZERO;
    };
    let strips: Length = plan
        .strips
        .iter()
        .map(|strip| strip.height.len * i64::from(strip.times))
        .sum();
    let there = Length::nearest(length.to_inches() * (1.0 - shrink)).unwrap_or_default();
    there - plan.square_up.len - strips
}

/// Up to the shop's next step.
fn in_steps(inches: f64, step: f64) -> Option<Length> {
    let step = Length::nearest(step).filter(|step| *step > Length::ZERO)?;
    measure::Ruling::new(step)?.round(inches, measure::Way::Up)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn joined_strips_lose_a_width_at_each_join() {
        // derived: 5 strips of 2 1/4 in across 40 in, joined on the diagonal, reach 5 · 40 − 4 · 2 1/4 = 191 in
        let (usable, strip) = (Length::inches(40), Length::fraction(9, 4));
        assert_eq!(strips_for(Length::inches(191), usable, strip), Some(5));
        assert_eq!(
            strips_for(Length::inches(191) + Length::from_units(1), usable, strip),
            Some(6)
        );
        assert_eq!(strips_for(Length::inches(40), usable, strip), Some(1));
        assert_eq!(strips_for(Length::inches(1), usable, strip), Some(1));
        assert_eq!(strips_for(Length::inches(40), strip, strip), None);
    }

    #[test]
    fn cloth_comes_in_whole_steps() {
        // derived: 11 1/4 in and 1 in to square up are 12 1/4 in; 3/8 yd is 13 1/2 in
        assert_eq!(in_steps(12.25, 4.5), Some(Length::fraction(27, 2)));
        assert_eq!(in_steps(9.0, 4.5), Some(Length::inches(9)));
        assert_eq!(in_steps(9.0, 0.0), None);
    }
}

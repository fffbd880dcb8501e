//! Plans spoiled on purpose: whoever counts again must notice.
#![allow(clippy::unwrap_used)] // A test may stop.

mod recount;

use cutting::{ClothNote, Cutting, plan_cutting};
use measure::{Length, Measure, Why};
use recipe::{Demand, DemandShape, Gives, Turn};
use recount::{ALL_TURNS, cloth, demand, inches, recount, rectangle, size};

fn sound() -> (Vec<Demand>, Vec<ClothNote>, Cutting, Vec<Why>) {
    let mut whys = Vec::new();
    let slant = DemandShape::Slant {
        height: size(4.0, &mut whys),
        lower: size(8.0, &mut whys),
        upper: size(4.0, &mut whys),
        lead: inches(2.0),
        ruler: None,
    };
    let half = DemandShape::Half {
        width: size(3.875, &mut whys),
        height: size(3.875, &mut whys),
        rising: true,
    };
    let demands = vec![
        demand("A1", "foam", 2, rectangle(12.0, 12.0, &mut whys), &ALL_TURNS),
        demand("A2", "foam", 48, rectangle(2.0, 2.0, &mut whys), &ALL_TURNS[..1]),
        demand("A3", "foam", 5, slant, &ALL_TURNS),
        demand("A4", "foam", 7, half, &ALL_TURNS),
    ];
    let cloths = vec![cloth("foam", 40.0, 1.0)];
    let cutting = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
    (demands, cloths, cutting, whys)
}

#[test]
fn spoiled_plans_are_noticed() {
    let (demands, cloths, cutting, whys) = sound();
    assert_eq!(recount(&demands, &cloths, &cutting, &whys), Ok(()));
    let eighth = Length::fraction(1, 8);
    type Spoil = (&'static str, fn(&mut Cutting, Length));
    let spoils: [Spoil; 11] = [
        ("a strip more", |c, _| c.plan.cloths[0].strips[0].times += 1),
        ("a strip less", |c, _| drop(c.plan.cloths[0].strips.pop())),
        ("a piece more", |c, _| c.plan.cloths[0].strips[0].runs[0].times += 1),
        ("a strip too high", |c, by| c.plan.cloths[0].strips[0].height.len += by),
        ("a cut too long", |c, by| {
            c.plan.cloths[0].strips[0].runs[0].cuts[0].lower.len += by
        }),
        ("a rest too high", |c, _| c.plan.cloths[0].strips[0].rest[0].times += 1),
        ("too little bought", |c, by| {
            c.bought.cloths[0].length.len = c.bought.cloths[0].length.len - by
        }),
        ("a bound too high", |c, _| {
            c.bought.cloths[0].bound.len = c.bought.cloths[0].length.len
        }),
        ("an extra forgotten", |c, _| c.extra.clear()),
        ("a width that is not there", |c, by| c.plan.cloths[0].usable.len += by),
        ("a size without its why", |c, _| c.plan.cloths[0].square_up.why = None),
    ];
    for (what, spoil) in spoils {
        let mut spoiled = cutting.clone();
        spoil(&mut spoiled, eighth);
        assert_ne!(recount(&demands, &cloths, &spoiled, &whys), Ok(()), "{what}");
    }
}

#[test]
fn every_turn_is_noticed() {
    let (demands, cloths, cutting, whys) = sound();
    let strips = cutting.plan.cloths[0].strips.len();
    let mut noticed = 0;
    for strip in 0..strips {
        for run in 0..cutting.plan.cloths[0].strips[strip].runs.len() {
            let mut spoiled = cutting.clone();
            let cut = spoiled.plan.cloths[0].strips[strip].runs[run].cuts.last_mut().unwrap();
            if let Gives::Piece(piece) = &mut cut.gives {
                // A square may lie any way; a slanted piece one way only where it lies.
                piece.turn = if piece.turn == Turn::As { Turn::Half } else { Turn::As };
                noticed += u32::from(recount(&demands, &cloths, &spoiled, &whys).is_err());
            }
        }
    }
    assert!(noticed >= 2);
}

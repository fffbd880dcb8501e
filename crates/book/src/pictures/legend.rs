//! How to read the pictures, and other small drawings: a cloth's swatch, the marks of a state, the seam test.

use super::canvas::{Canvas, Lettering, Pen};
use super::cloth::{Cloth, tile};
use crate::model::Picture;
use shape::Vector;

/// A square of a cloth.
pub(crate) fn swatch(cloth: &Cloth, side: f64) -> Picture {
    let mut canvas = Canvas::new(side + 1.0, side + 1.0);
    tile(&mut canvas, cloth, 0.5, 0.5, side);
    canvas.finish(format!("Swatch of {}", cloth.label))
}

/// A mark before a state in words: a tick on a disc, or a bar and dot on an octagon.
pub(crate) fn mark(good: bool) -> Picture {
    let mut canvas = Canvas::new(14.0, 14.0);
    match good {
        true => {
            canvas.circle((7.0, 7.0), 6.3, "#2F6B4F", None);
            canvas.outline(
                &[(3.4, 7.2), (4.5, 6.1), (6.2, 7.8), (9.6, 4.2), (10.7, 5.3), (6.2, 10.0)],
                "#FFFFFF",
                None,
            );
            canvas.finish("Good")
        }
        false => {
            canvas.outline(
                &[
                    (4.0, 0.5),
                    (10.0, 0.5),
                    (13.5, 4.0),
                    (13.5, 10.0),
                    (10.0, 13.5),
                    (4.0, 13.5),
                    (0.5, 10.0),
                    (0.5, 4.0),
                ],
                "#A3211B",
                None,
            );
            canvas.outline(&[(6.1, 3.0), (7.9, 3.0), (7.6, 8.4), (6.4, 8.4)], "#FFFFFF", None);
            canvas.circle((7.0, 10.4), 1.0, "#FFFFFF", None);
            canvas.finish("Stop")
        }
    }
}

/// Three strips sewn together; the middle one is measured.
pub(crate) fn test_strips(strips: [&Cloth; 3], middle: &str) -> Picture {
    let (w, h) = (150.0, 62.0);
    let mut canvas = Canvas::new(w, h + 26.0);
    let edges = [0.5, 56.0, 94.0, 149.5];
    for (i, cloth) in strips.iter().enumerate() {
        let (a, b) = (edges[i], edges[i + 1]);
        cloth.right(&mut canvas, &[(a, 0.5), (b, 0.5), (b, h), (a, h)], Some(Pen::CUT));
    }
    canvas.span(edges[1], edges[2], h + 8.0, middle);
    canvas.finish(format!("Three strips sewn together; the middle one measures {middle}"))
}

/// Every kind of line and face once, each with its words.
pub(crate) fn legend(cloth: &Cloth, quarter: &str) -> Vec<Picture> {
    let (w, h) = (80.0, 42.0);
    let lines = [
        ("Cut edge", Pen::CUT),
        ("Stitching", Pen::STITCH),
        ("Drawn line", Pen::DRAWN),
    ];
    let mut all: Vec<Picture> = Vec::new();
    let right = |c: &mut Canvas| {
        cloth.right(
            c,
            &[(6.0, 6.0), (w - 6.0, 6.0), (w - 6.0, h - 6.0), (6.0, h - 6.0)],
            Some(Pen::CUT),
        );
    };
    let mut one = Canvas::new(w, h);
    right(&mut one);
    all.push(one.finish("").captioned("Right side"));
    let mut two = Canvas::new(w, h);
    cloth.wrong(
        &mut two,
        &[(6.0, 6.0), (w - 6.0, 6.0), (w - 6.0, h - 6.0), (6.0, h - 6.0)],
        Some(Pen::CUT),
    );
    all.push(two.finish("").captioned("Wrong side"));
    for (words, pen) in lines {
        let mut canvas = Canvas::new(w, h);
        canvas.line((8.0, h / 2.0), (w - 8.0, h / 2.0), pen);
        all.push(canvas.finish("").captioned(words));
    }
    let mut trim = Canvas::new(w, h);
    trim.waste(&[(6.0, 6.0), (w - 6.0, 6.0), (w - 6.0, 20.0), (6.0, 20.0)], None);
    trim.line((2.0, 20.0), (w - 2.0, 20.0), Pen::TRIM);
    cloth.right(
        &mut trim,
        &[(6.0, 21.0), (w - 6.0, 21.0), (w - 6.0, h - 4.0), (6.0, h - 4.0)],
        None,
    );
    all.push(trim.finish("").captioned("Trim: hatched goes"));
    let mut press = Canvas::new(w, h);
    right(&mut press);
    press.line((w / 2.0, 6.0), (w / 2.0, h - 6.0), Pen::SEAM);
    press.arrow((w / 2.0, h / 2.0), Vector::new(1.0, 0.0), 18.0);
    all.push(press.finish("").captioned("Press this way"));
    let mut over = Canvas::new(w, h);
    cloth.right(
        &mut over,
        &[(8.0, h - 6.0), (60.0, h - 6.0), (46.0, 14.0), (8.0, 14.0)],
        Some(Pen::CUT),
    );
    cloth.wrong(
        &mut over,
        &[(22.0, h - 6.0), (60.0, h - 6.0), (60.0, 8.0), (40.0, 8.0)],
        Some(Pen::CUT),
    );
    over.circle((46.0, 12.0), 9.0, "none", Some(Pen::RING));
    over.centred((66.0, 12.0), quarter, Lettering::MEASURE);
    all.push(over.finish("").captioned("Corner runs over"));
    let mut grain = Canvas::new(w, h);
    right(&mut grain);
    grain.grain((w / 2.0, h / 2.0), Vector::new(0.0, 1.0), 18.0, cloth.lettering());
    all.insert(2, grain.finish("").captioned("Cloth's length"));
    // The captions say what there is to see.
    for picture in &mut all {
        picture.alt = picture.caption.clone().unwrap_or_default();
    }
    all
}

//! After the top: the back, the layers, quilting, squaring, binding, the sleeve and the label.

use super::Desk;
use super::shopping::heading;
use crate::model::{Block, Section, Text};
use crate::pictures::{back, layers, mitre};
use crate::plural::counted;
use finishing::{Backing, BackingWay, Binding, BindingCut, Label, Lay, Sleeve};
use recipe::Size;

pub(super) fn finishing(desk: &Desk) -> Section {
    let mut blocks = vec![heading(1, "Finishing")];
    let plan = &desk.source.finishing;
    let mut number = 0;
    let mut step = |sentences: Vec<Text>, pictures, blocks: &mut Vec<Block>| {
        number += 1;
        blocks.push(Block::Step {
            number: Some(number),
            sentences,
            pictures,
            wide: false,
        });
    };
    let press = "Press the top once more, from the wrong side, then from the right. Snip loose threads.";
    step(vec![Text::of(press)], Vec::new(), &mut blocks);
    if let Some(backing) = &plan.backing {
        blocks.push(heading(2, "The back"));
        let picture = back(backing, desk.cloths.get(&backing.fabric), desk.edition);
        step(back_sentences(desk, backing), vec![picture], &mut blocks);
    }
    if plan.backing.is_some() || plan.batting.is_some() {
        blocks.push(heading(2, "Layers"));
        let cloth = plan.backing.as_ref().map(|b| desk.cloths.get(&b.fabric));
        step(layer_sentences(desk), vec![layers(cloth, desk.edition)], &mut blocks);
        blocks.push(Block::Caution {
            word: "Pins".into(),
            text: "Count them in and out again. Basting spray and starch: open a window, and keep both from children and flames."
                .into(),
        });
    }
    blocks.push(heading(2, "Quilting"));
    step(
        vec![
            Text::of("Quilt from the middle outward, so that no fold is pushed together."),
            Text::of("Stop short of the raw edge of the top by a seam's width: that goes under the binding."),
        ],
        Vec::new(),
        &mut blocks,
    );
    let said = quilting_words(desk);
    if !said.is_empty() {
        blocks.push(Block::Table {
            head: ["Block", "How the designer quilts it"].map(String::from).to_vec(),
            rows: said
                .into_iter()
                .map(|(block, words)| vec![Text::new().strong(block), Text::of(words)])
                .collect(),
        });
    }
    step(square_sentences(desk), Vec::new(), &mut blocks);
    if let Some(binding) = &plan.binding {
        blocks.push(heading(2, "Binding"));
        let cloth = desk.cloths.get(&binding.fabric);
        step(strip_sentences(desk, binding), Vec::new(), &mut blocks);
        step(edge_sentences(binding), vec![mitre(cloth, desk.edition)], &mut blocks);
        step(closing_sentences(binding), Vec::new(), &mut blocks);
    }
    if let Some(sleeve) = &plan.sleeve {
        blocks.push(heading(2, "To hang it by"));
        step(sleeve_sentences(desk, sleeve), Vec::new(), &mut blocks);
    }
    blocks.push(heading(2, "Your name on it"));
    step(label_sentences(desk, plan.label.as_ref()), Vec::new(), &mut blocks);
    Section {
        name: "finishing".into(),
        blocks,
    }
}

fn back_sentences(desk: &Desk, backing: &Backing) -> Vec<Text> {
    let way = &backing.way;
    let label = desk.source.label(&backing.fabric);
    let mut all = vec![
        Text::of("The back must be ")
            .by(backing.width, backing.height)
            .say(", larger than the top on every side."),
    ];
    let lengths = u64::from(way.lengths);
    match way.lay {
        Lay::Wide | Lay::WideSideways => all.push(
            Text::of("Take ")
                .cloth(way.cloth, true)
                .say(" of wide cloth, ")
                .quiet(backing.usable)
                .say(" between its selvedges: no seam is needed."),
        ),
        Lay::Upright | Lay::Sideways if way.lengths == 1 => all.push(
            Text::of("One length of ")
                .strong(label)
                .say(", ")
                .size(way.each)
                .say(", is wide enough."),
        ),
        Lay::Upright | Lay::Sideways => {
            let run = if way.lay == Lay::Upright { "upright" } else { "sideways" };
            all.push(
                Text::of("Cut ")
                    .strong(counted(lengths, "length"))
                    .say(" of ")
                    .strong(label)
                    .say(", each ")
                    .size(way.each)
                    .say(format!(", and cut off the selvedges. They run {run}.")),
            );
            all.push(
                Text::of("Sew them side by side with ")
                    .size(backing.seam)
                    .say(" seams and press the seams open."),
            );
        }
    }
    all.push(Text::of(
        "Trim what is left over from both sides, so that the seams lie evenly.",
    ));
    if let Some(other) = backing.others.first().filter(|other| other.cloth.len != way.cloth.len) {
        all.push(other_way(other));
    }
    all
}

fn other_way(way: &BackingWay) -> Text {
    let how = match way.lay {
        Lay::Upright => "Upright",
        Lay::Sideways => "Sideways",
        Lay::Wide | Lay::WideSideways => "In one piece of wide cloth",
    };
    let lengths = match way.lay {
        Lay::Upright | Lay::Sideways => format!(" in {}", counted(u64::from(way.lengths), "length")),
        Lay::Wide | Lay::WideSideways => String::new(),
    };
    Text::new()
        .soft(format!("{how} it would take "))
        .cloth(way.cloth, false)
        .soft(format!("{lengths}."))
}

fn layer_sentences(desk: &Desk) -> Vec<Text> {
    let plan = &desk.source.finishing;
    let mut all = Vec::new();
    if let Some(batting) = &plan.batting {
        let mut text = Text::of("Batting: ").by(batting.width, batting.height);
        text = match batting.package {
            Some(package) => text.say(format!("; a package called \"{}\" covers it.", package.name)),
            None => text.say("; no common package covers it, so lay two pieces edge to edge and catch them together."),
        };
        all.push(text.say(" Let it lie open for a day."));
    }
    all.push(Text::of(
        "Lay the back right side down on a clean floor or table and tape its edges, taut but not stretched.",
    ));
    all.push(Text::of(
        "Smooth the batting over it, then the top, right side up, in the middle. Check that its sides are straight.",
    ));
    all.push(Text::of(
        "Baste the three together from the middle outward: pins a hand's width apart, or long stitches in rows.",
    ));
    all
}

/// What the designer says of quilting each block, once each.
fn quilting_words(desk: &Desk) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    for story in &desk.source.stories {
        let (Some(block), Some(words)) = (&story.block, &story.quilting) else {
            continue;
        };
        if !all.iter().any(|(known, _)| known == block) {
            all.push((block.clone(), words.clone()));
        }
    }
    all
}

fn square_sentences(desk: &Desk) -> Vec<Text> {
    let mut all = vec![Text::of(
        "Square it up: lay a long ruler along the raw edge of the top and cut back and batting level with it.",
    )];
    if let Some(binding) = &desk.source.finishing.binding {
        all.push(
            Text::of("The top's outer ")
                .size(binding.shows)
                .say(" all round goes under the binding: cut none of it off."),
        );
    }
    all.push(Text::of(
        "Measure through the middle and along both edges, both ways; where the edges are longer, ease them in when you bind.",
    ));
    all
}

fn strip_sentences(desk: &Desk, binding: &Binding) -> Vec<Text> {
    let label = desk.source.label(&binding.fabric);
    let mut all = match &binding.cut {
        BindingCut::Straight { strips } if is_of_one(strips) => vec![
            Text::of("From ")
                .strong(label)
                .say(" take the ")
                .strong(counted(strips.len() as u64, "strip"))
                .say(" ")
                .size(binding.strip)
                .say(" wide."),
        ],
        BindingCut::Straight { strips } => {
            let mut text = Text::of("Take the ")
                .strong(counted(strips.len() as u64, "strip"))
                .say(" ")
                .size(binding.strip)
                .say(" wide and lay them out in this order: ");
            for (i, fabric) in strips.iter().enumerate() {
                let between = if i == 0 { "" } else { ", " };
                text = text.say(between).strong(desk.source.label(fabric));
            }
            vec![text.say(".")]
        }
        BindingCut::Bias(square) => {
            let many = if square.squares == 1 {
                "the square of ".to_string()
            } else {
                format!("the {} squares of ", square.squares)
            };
            vec![
                Text::of("From ").strong(label).say(" take ").say(many).size(square.side).say(
                    ". Cut it once from corner to corner. Lay the two triangles right sides together along two straight edges, so that \
                     they make a slanted piece, and sew that seam; press it open.",
                ),
                Text::of("On the wrong side draw lines ")
                    .size(binding.strip)
                    .say(" apart, beginning at a slanting (bias) edge: ")
                    .strong(counted(u64::from(square.strips), "strip"))
                    .say(". What is left beyond the last line is cut off."),
                Text::of(
                    "Bring the two straight edges together to a tube, right sides together, one strip out of step, so that each line runs on \
                     into the next; sew, press open, and cut along the line, round and round.",
                ),
            ]
        }
    };
    if let BindingCut::Straight { strips } = &binding.cut
        && strips.len() > 1
    {
        all.push(Text::of(
            "Join them on the diagonal: right sides together, at a right angle, sewn from corner to corner; trim and press open. Each join \
             takes the strip's width.",
        ));
    }
    all.push(
        Text::of("The strip is ")
            .size(binding.there)
            .say(" long; ")
            .quiet(binding.needed)
            .say(" are needed. Press it in half along its length, wrong sides together."),
    );
    all
}

fn is_of_one(strips: &[terms::FabricId]) -> bool {
    strips.windows(2).all(|two| two[0] == two[1])
}

fn edge_sentences(binding: &Binding) -> Vec<Text> {
    vec![
        Text::of("Lay the folded strip on the front, raw edges even, and begin in the middle of a side, a hand's length of it free."),
        Text::of("Sew ").size(binding.shows).say(" from the edge."),
        Text::of("At a corner stop ")
            .size(binding.shows)
            .say(
                " before the edge and cut the thread. Fold the strip straight up, away from the quilt, so that the fold slants; then \
                 straight down, the new fold level with the edge. Begin again at that edge.",
            ),
    ]
}

fn closing_sentences(binding: &Binding) -> Vec<Text> {
    vec![
        Text::of("To close, cut the two ends so that they overlap by ")
            .size(binding.strip)
            .say(
                ", the strip's width, open them, join them on the diagonal as before, fold, and sew the last stretch.",
            ),
        Text::of(
            "Turn the fold to the back and stitch it down over the seam, the corners folded slanting there as well.",
        ),
    ]
}

fn sleeve_sentences(desk: &Desk, sleeve: &Sleeve) -> Vec<Text> {
    let join = if sleeve.strips > 1 {
        format!(", joined of {}", counted(u64::from(sleeve.strips), "strip"))
    } else {
        String::new()
    };
    vec![
        Text::of("From ")
            .strong(desk.source.label(&sleeve.fabric))
            .say(" make a strip ")
            .by(sleeve.strip, sleeve.length)
            .say(format!("{join}.")),
        Text::of("Fold ")
            .size(sleeve.hem)
            .say(" under at each end, half of it first, and sew it down."),
        Text::of(
            "Fold the strip in half along its length, right side out. Lay its raw edges level with the back's upper edge before the binding \
             is turned over them, and stitch its fold down by hand, leaving a little slack for the rod.",
        ),
    ]
}

fn label_sentences(desk: &Desk, label: Option<&Label>) -> Vec<Text> {
    let mut all = Vec::new();
    if let Some(label) = label {
        all.push(
            Text::of("From ")
                .strong(desk.source.label(&label.fabric))
                .say(" cut a piece ")
                .by(label.width, label.height)
                .say(", turn ")
                .size(Size::bare(measure::Length::fraction(1, 4)))
                .say(" under all round and stitch it to the back."),
        );
    }
    all.push(Text::of(
        "Write who made it, for whom, where and when, with a pen that does not wash out.",
    ));
    all
}

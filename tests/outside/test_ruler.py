"""Cuts along a ruler's line at an angle, right and wrong.

Every value is derived: cot 60 = 1/sqrt 3, cot 30 = sqrt 3, cot 67.5 = sqrt 2 - 1; what lies m further along the strip lies
m sin(angle) across. Each is rounded to a whole 1/8128 in, which is well within the 1/1000 in allowed.
"""

import copy
import json
import math

import makers
import pytest
from cuts import Cutter
from makers import n
from plane import Refused
from replay import Picture, judge

COT = {"30": math.sqrt(3), "45": 1.0, "60": 1 / math.sqrt(3), "67.5": math.sqrt(2) - 1}


def slanted(lower, upper, angle, gives="waste", across=None):
    cut = makers.cut(lower, upper, gives)
    cut["ruler"] = {"angle": angle}
    if across is not None:
        cut["ruler"]["across"] = n(across)
    return cut


def taken(*cuts, height=2.5, times=1):
    """The one kind of piece that comes off a strip, and how many."""
    strip = makers.strip(height, *cuts[:1])
    strip["runs"].append({"times": times, "cuts": list(cuts[1:])})
    pattern = makers.pattern({"cloth": [strip]}, {"A": "cloth"}, [])
    return Cutter(pattern).kinds.get("A", (None, 0))


def off(words, *cuts, **more):
    with pytest.raises(Refused) as answer:
        taken(*cuts, **more)
    assert words in f"{answer.value.where}: {answer.value.why}"


def sin(angle):
    return math.sin(math.radians(float(angle)))


PIECE = makers.whole_piece("A")


@pytest.mark.parametrize("angle", sorted(COT))
@pytest.mark.parametrize("leans", ("right", "left"))
def test_diamonds_by_a_ruler(angle, leans):
    # A diamond is as far across as its strip is high: along the strip that is the height by the sine.
    lean = 2.5 * COT[angle]
    first = slanted(0, lean, angle) if leans == "right" else slanted(lean, 0, angle)
    along = 2.5 / sin(angle)
    piece, count = taken(first, slanted(along, along, angle, PIECE, across=2.5), times=4)
    assert count == 4
    sides = [abs(end - start) for start, end, _ in piece.edges()]
    assert sides == pytest.approx([along] * 4, abs=1 / 1000)
    # A 64th more or less across, and as much along the strip.
    for wrong in (-1 / 64, 1 / 64):
        off("across from the last cut, not", first, slanted(along, along, angle, PIECE, across=2.5 + wrong))
        further = along + wrong
        off("across from the last cut, not", first, slanted(further, further, angle, PIECE, across=2.5))
    # What lies along the strip is not what lies across it.
    off("across from the last cut, not", first, slanted(along, along, angle, PIECE, across=along))


@pytest.mark.parametrize("angle", sorted(COT))
def test_the_cut_lies_at_the_rulers_angle(angle):
    lean = 2.5 * COT[angle]
    for one, other in ((0, lean), (lean, 0), (1, 1 + lean), (1 + lean, 1)):
        # How far on a piece's cut begins must be said, or be nothing; an angle ruler has a blunt point of its own.
        if min(one, other) == 0 or angle == "67.5":
            assert taken(slanted(one, other, angle, PIECE))[1] == 1
        else:
            off("nothing says how far", slanted(one, other, angle, PIECE))
            taken(slanted(one, other, angle))
        for other_angle in set(COT) - {angle}:
            off(f"a cut at {other_angle} degrees", slanted(one, other, other_angle))
        for wrong in (-1 / 64, -1 / 500, 1 / 500, 1 / 64):
            off(f"a cut at {angle} degrees", slanted(one + (2 + wrong), other + 2, angle))
    # Straight across, or at the right slant in a strip of another height.
    off(f"a cut at {angle} degrees", slanted(1, 1, angle))
    off(f"a cut at {angle} degrees", slanted(0, lean, angle), height=2.625)


def test_the_bound_is_a_thousandth():
    # 1/1000 in is 8.128 of the file's lengths: eight off is within it, nine is not.
    for by in (-8, 8):
        cut = slanted(0, 2.5, "45", PIECE)
        cut["upper"]["len"] += by
        assert taken(cut)[1] == 1
    for by in (-9, 9):
        cut = slanted(0, 2.5, "45", PIECE)
        cut["upper"]["len"] += by
        off("a cut at 45 degrees", cut)
    # 3 in along a strip at 30 degrees is 1 1/2 in across.
    first = slanted(0, 2.5 * COT["30"], "30")
    for by in (-8, 0, 8):
        cut = slanted(3, 3, "30", PIECE, across=1.5)
        cut["ruler"]["across"]["len"] += by
        assert taken(first, cut)[1] == 1
    for by in (-9, 9):
        cut = slanted(3, 3, "30", PIECE, across=1.5)
        cut["ruler"]["across"]["len"] += by
        off("across from the last cut, not", first, cut)


def test_triangles_and_wedges_head_to_tail():
    # Equal-sided triangles at 60 degrees: each begins where the last cut meets an edge, point up and point down.
    side = 2 * 2.5 / math.sqrt(3)
    waste = slanted(0, side / 2, "60")
    up, down = slanted(side, 0, "60", PIECE), slanted(0, side, "60", makers.whole_piece("A", "half"))
    piece, count = taken(waste, up, down, times=3)
    assert count == 6 and piece.area() == pytest.approx(side * 2.5 / 2, abs=1 / 100)
    off("a cut at 45 degrees", waste, {**up, "ruler": {"angle": "45"}})
    # Wedges of 45 degrees: the blunt point is 1/8 in wide.
    lean = 4 * COT["67.5"]
    wide = 1 / 8 + 2 * lean
    wedges = [
        slanted(wide, 1 / 8, "67.5", PIECE),
        slanted(1 / 8, wide, "67.5", makers.whole_piece("A", "half")),
    ]
    assert taken(slanted(0, lean, "67.5"), *wedges, height=4, times=2)[1] == 4
    wedges[1] = slanted(1 / 8, wide + 1 / 64, "67.5", makers.whole_piece("A", "half"))
    off("cut 3: a cut at 67.5 degrees", slanted(0, lean, "67.5"), *wedges, height=4)


def test_across_needs_a_last_cut_that_is_parallel():
    lean = 2.5 * COT["60"]
    # From the squared end; and from a cut at the same angle that leans the other way.
    off("not parallel", slanted(3, 3 + lean, "60", across=3))
    for across in (3.0, 3 * sin("60"), (3 + lean) * sin("60")):
        off("not parallel", slanted(0, lean, "60"), slanted(3 + 2 * lean, 3, "60", PIECE, across=across))
    # Without a measure nothing says where such a cut lies, unless it begins where the last one ends.
    off("nothing says how far", slanted(0, lean, "60"), slanted(3 + 2 * lean, 3, "60", PIECE))
    assert taken(slanted(0, lean, "60"), slanted(2 * lean, 0, "60", PIECE))[1] == 1
    # A last cut made through two marks will do, if it is parallel.
    first = makers.cut(0, lean, "waste")
    assert taken(first, slanted(3, 3, "60", PIECE, across=3 * sin("60")))[1] == 1


def test_what_no_ruler_has():
    for angle in ("22.5", "90", "0", "", "sixty", None, True, [], {}, "nan"):
        off("no ruler has", slanted(0, 2.5, angle))
    first = slanted(0, 2.5, "45")
    for across in (0, -1, -math.sqrt(0.5)):
        off("not more than nothing", first, slanted(1, 1, "45", PIECE, across=across))
    broken = slanted(1, 1, "45", PIECE, across=1)
    broken["ruler"]["across"]["len"] = 0.5
    off("whole number", first, broken)


def test_every_round_of_a_run_is_looked_at():
    # Two cuts that turn a little more each round: the first round is at the angle, the second not.
    drifting = [slanted(2, 2 + 5 / 8128, "67.5", PIECE)]
    lean = 2.5 * COT["67.5"]
    assert taken(slanted(0, lean, "67.5"), *drifting)[1] == 1
    off("cut 3: a cut at 67.5 degrees", slanted(0, lean, "67.5"), *drifting, times=2)


def test_a_ruler_in_narrower_strips_from_the_rest():
    inner = makers.strip(2, slanted(0, 2, "45", PIECE))
    pattern = makers.pattern(
        {"cloth": [makers.strip(4, makers.cut(4, 4, "waste"), rest=[inner])]}, {"A": "cloth"}, []
    )
    assert Cutter(pattern).kinds["A"][1] == 1
    inner["runs"][0]["cuts"][0]["upper"] = n(2.0625)
    with pytest.raises(Refused, match="a cut at 45 degrees") as answer:
        Cutter(pattern)
    assert "rest 1, cut 1" in answer.value.where


def test_the_whole_judge_refuses_it(tmp_path):
    # Squares are cut straight across: no ruler, or one of nothing written, will do; one at an angle is refused.
    recipe, drawn = makers.four_patch()

    def answer(ruler):
        changed = copy.deepcopy(recipe)
        for cut in changed["cutting"]["cloths"][0]["strips"][0]["runs"][0]["cuts"]:
            cut["ruler"] = ruler
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(changed))
        return judge(file, Picture(drawn))

    assert answer(None)["proved"]
    for ruler in ({"angle": "60"}, {"angle": "45", "across": n(1)}, {"angle": "61"}, {}, "60", 60, []):
        assert not answer(ruler)["proved"], ruler

"""Seams that stop in a dot, turn, or are begun and closed: recipes made by hand, right and wrong."""

import copy
import json

import makers_turned as turned
import pytest
from folding import INNER, folded, made_one
from makers import U, edge, even, n, run
from plane import FOLD, Line, Patch, Refused
from replay import Picture, judge
from rotary import snip
from sewing import stops_of
from stitches import Stretch
from work import Path, Work


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe, drawn):
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


def steps_of(recipe, make=-1):
    return recipe["recipe"]["makes"][make]["steps"]


def step(recipe, what, make=-1, nth=0):
    return [each[what] for each in steps_of(recipe, make) if what in each][nth]


def refused(answer, *words):
    assert not answer["proved"]
    for word in words:
        assert word in answer["where"] + " " + answer["why"], answer


@pytest.mark.parametrize("left", [True, False])
def test_a_windmill_begins_a_seam_and_closes_it(verdict, left):
    # Derived: everything on the ruler; 6 in finished from 2 1/2 in squares and 2 1/2 by 4 1/2 in blades.
    answer = verdict(*turned.windmill(left))
    assert answer["proved"], answer
    assert answer["largest_difference"] < 1e-6
    for at in (0.5, 2.0, 2.23):  # from two seams on, short of the middle's raw end at 2 1/2 in
        assert verdict(*turned.windmill(left, at=at))["proved"], at
    refused(verdict(*turned.windmill(left, at=0.45)), "two seams")
    refused(verdict(*turned.windmill(left, at=2.5)), "short of")
    refused(verdict(*turned.windmill(left, blade=4.5625)))
    refused(verdict(*turned.windmill(left, width=2.5625)))
    refused(verdict(*turned.windmill(left, middle=2.5625)))


@pytest.mark.parametrize("left", [True, False])
def test_a_begun_seam_is_a_seam_only_when_closed(verdict, left):
    def broken(change):
        recipe, drawn = turned.windmill(left)
        change(recipe)
        return verdict(recipe, drawn)

    # Finished before it is closed.
    def unclosed(recipe):
        steps = steps_of(recipe)
        steps[-1]["finish"]["top"] = 23
        del steps[-2]

    refused(broken(unclosed), "finish", "not closed")

    # Named before, and by its old name after.
    def named(at, of, seam):
        # From the seam to the blade's outer corner along its outer end: 2 1/2 in less the seam.
        end, corner = ((1, 3), ((1, 3), (1, 0))) if left else ((1, 1), ((1, 0), (1, 1)))
        places = [
            {"crossing": [{"seam": {"of": seam, "seam": 0}}, {"edge": edge(*end)}]},
            {"corner": {"before": edge(*corner[0]), "after": edge(*corner[1])}},
        ]
        check = {"of": of, "what": {"between": places}, "is": n(2.25)}
        return lambda recipe: steps_of(recipe).insert(at, {"check": check})

    refused(broken(named(-2, 23, 20)), "only begun")
    refused(broken(named(-1, 30, 20)), "not on this work")
    assert broken(named(-1, 30, 30))["proved"]  # the whole seam, from raw edge to raw edge

    # Ends that do not belong together.
    def all_sewn(recipe):
        beside = step(recipe, "sew")["path"]["beside"]
        beside["from"] = beside["to"] = "raw"

    refused(broken(all_sewn), "sew", "open")

    def not_open(recipe):
        edges = step(recipe, "lay")["how"]["edges"]
        edges["first" if left else "last"] = even((0, 3), (1, 3)) if left else even((0, 1), (1, 1))

    refused(broken(not_open))

    # Closing the wrong way round, another seam, or at an end that is elsewhere.
    def swapped(recipe):
        close = step(recipe, "close")
        close["a"], close["b"] = close["b"], close["a"]

    refused(broken(swapped), "close")
    refused(broken(lambda recipe: step(recipe, "close")["seam"].update(of=21)), "not begun")
    other = even((2, 0), (1, 3)) if left else even((2, 0), (1, 1))
    refused(broken(lambda recipe: step(recipe, "close").update(end=other)), "close", "off")
    refused(broken(lambda recipe: step(recipe, "close").update(end="open")), "close", "open")
    refused(broken(lambda recipe: step(recipe, "close").update(meets=[{"a": 0, "b": 0}])), "close", "joint 0")
    # Only a part of the run is closed: the last blade's end is left out.
    refused(broken(lambda recipe: step(recipe, "close").update(a=run((0, 0)))))


def test_a_pane_is_set_in_with_two_legs(verdict):
    for back in (False, True):
        answer = verdict(*turned.attic(back=back))
        assert answer["proved"], answer
        assert answer["largest_difference"] < 0.001
    # Sewn through to the raw edge the two sides would not let the pane turn.
    refused(verdict(*turned.attic(stop="raw")), "pivot", "no seam stops")
    refused(verdict(*turned.attic(pane=4.5625)))
    refused(verdict(*turned.attic(pane=4.4375)))
    refused(verdict(*turned.attic(long=6.85 + 1 / 16)))


def test_each_leg_is_sewn_once_and_turns_where_the_seam_stopped(verdict):
    def broken(change):
        recipe, drawn = turned.attic()
        change(recipe, steps_of(recipe))
        return verdict(recipe, drawn)

    refused(broken(lambda recipe, steps: steps.pop(5)), "open", "each leg")
    refused(broken(lambda recipe, steps: steps.insert(6, copy.deepcopy(steps[5]))), "open", "each leg")
    refused(broken(lambda recipe, steps: steps.insert(4, copy.deepcopy(steps[3]))), "pivot", "exactly once")
    refused(broken(lambda recipe, steps: steps.pop(3)), "pivot", "exactly once")
    # Stitches to the raw edge cannot turn; stitches stop in dots only where dots are.
    refused(broken(lambda recipe, steps: steps[3]["sew"]["path"]["beside"].update({"from": "raw"})))
    refused(broken(lambda recipe, steps: steps[3]["sew"]["path"]["beside"].update({"to": "dot"})), "sew", "dot")
    # Another end, other dots.
    refused(broken(lambda recipe, steps: steps[4]["pivot"].update(first="open")), "pivot", "open")
    refused(broken(lambda recipe, steps: steps[4]["pivot"].update(last=even((0, 0), (1, 2)))), "pivot", "turn at the dots")

    def another_dot(recipe, steps):
        steps.insert(0, turned.dot(0, "twin", (0, 3), (0, 0)))
        steps[5]["pivot"]["last"] = turned.dots("twin", "corner")

    refused(broken(another_dot), "pivot", "turn at the dots")
    # The second leg's run is the wrong one.
    refused(broken(lambda recipe, steps: steps[4]["pivot"].update(a=run((0, 1)))), "pivot")

    def cut(recipe, steps):
        keep = [{"corner": {"before": edge(0, 1), "after": edge(0, 2)}, "into": 8}]
        line = {"beside": {"line": {"edge": edge(0, 0)}, "at": n(1), "toward": {"before": edge(0, 1), "after": edge(0, 2)}}}
        off = [{"before": edge(0, 0), "after": edge(0, 1)}]
        steps.insert(6, {"cut-apart": {"stack": 2, "line": line, "keep": keep, "offcut": off}})

    refused(broken(cut), "cut-apart", "turned")


def test_units_have_their_stops_alike(verdict):
    # The frame twice: once stopped in its dot, once sewn through; two gives of one making differ.
    recipe, drawn = turned.attic()
    frame = recipe["recipe"]["makes"][0]
    for kind in "SL":
        frame["parts"].append({"slot": 10 + "SL".index(kind), "take": {"piece": kind}})
    again = json.loads(json.dumps(frame["steps"]).replace("shade's", "s").replace("light's", "l"))

    def shifted(value):
        if isinstance(value, dict):
            return {
                key: each + 10 if key in ("of", "on", "stack", "into") and isinstance(each, int)
                else each + 10 if key in ("a", "b") and isinstance(each, int) else shifted(each)
                for key, each in value.items()
            }  # fmt: skip
        return [shifted(each) for each in value] if isinstance(value, list) else value

    again = shifted(again)
    give = shifted(copy.deepcopy(frame["gives"][0]))
    give["slot"] = 13
    frame["steps"] += again
    frame["gives"].append(give)
    frame["spare"] = 1
    for cloth in recipe["cutting"]["cloths"][:2]:
        for strip in cloth["strips"]:
            cuts = strip["runs"][0]["cuts"]
            strip["times"] = 2
            assert cuts
    for cloth in recipe["bought"]["cloths"]:
        cloth["length"] = n(10)
    assert verdict(recipe, drawn)["proved"], verdict(recipe, drawn)
    again[3]["sew"]["path"]["beside"]["from"] = "raw"
    refused(verdict(recipe, drawn), "alike", "stops elsewhere")


# --- the finer rules ---------------------------------------------------------------------------------------------

ALONG = Line(0j, 1 + 0j)


def cloth(key, corners, names=None):
    places = [complex(*corner) for corner in corners]
    names = names or [()] * len(corners)
    return Patch(key, str(key), "cloth", 1j, places, [frozenset(each) for each in names], key)


def test_a_piece_folded_over_part_of_its_length_is_still_one_piece():
    sides = [{(0, side)} for side in range(4)]
    piece = cloth((0, 0), [(0, -0.25), (6, -0.25), (6, 2), (0, 2)], sides)
    path = Path(ALONG, 0.0, 3.0, +1, {(0, 0)}, None)
    parts = folded([piece], path, Line(3 + 0j, 1j))
    # Derived: 6 by 2 1/4 in less 3 by 1/4 in.
    assert len(parts) == 2 and sum(part.area() for part in parts) == pytest.approx(6 * 2.25 - 0.75)
    raw = [(s, e) for part in parts for s, e, names in part.edges() if (0, 0) in names]
    assert len(raw) == 1 and sorted(z.real for z in raw[0]) == pytest.approx([3, 6])
    # Across, along the sewn part, and exactly where its parts meet: one stretch each.
    for at, way, stretch in ((1, 1j, (0, 2)), (3, 1j, (-0.25, 2)), (1j, 1, (0, 6))):
        hits = Stretch(parts, Line(complex(at), complex(way)), {(0, 0)}, "layer").hits
        assert [hit[:2] for hit in hits] == [pytest.approx(stretch)]
    # Folded all along it is one again, with every name.
    whole = made_one(folded(parts, Path(ALONG, 0.0, 6.0, +1, {(0, 0)}, None)), {(0, 0)})
    assert len(whole) == 1 and whole[0].area() == pytest.approx(12)
    assert set(whole[0].names) == {frozenset([name]) for name in (FOLD, (0, 1), (0, 2), (0, 3))}
    assert len(whole[0].corners) == 4 and not any(INNER in names for names in whole[0].names)


def test_what_lies_round_the_corner_of_a_stop_is_not_looked_at():
    # A run from 0 to 4; another piece goes on from there along the path.
    layer = [cloth(0, [(0, -0.25), (4, -0.25), (4, 2), (0, 2)]), cloth(1, [(4, -2), (8, -2), (8, 2), (4, 2)])]
    stretch = Stretch(layer, ALONG, {0}, "layer")
    stretch.check((0, 4), (0, 4), 0.25, (False, True))
    assert stretch.keys == {0}
    with pytest.raises(Refused, match="goes on 4.0000 in"):  # sewn to the raw edge it would be
        stretch.check((0, 4), (0, 4), 0.25)
    # A tip of it comes up to four seams inside the stop: folded out of the way. Further inside it is caught.
    stretch.check((0, 5), (0, 5), 0.25, (False, True))
    with pytest.raises(Refused, match="catch piece 1"):
        stretch.check((0, 5.25), (0, 5.25), 0.25, (False, True))
    # Cloth of the corner's other side lies beyond the path and reaches past the stop: left alone.
    ear = cloth(2, [(3.5, -0.2), (4.5, -0.2), (4.5, 0.01), (3.5, 0.01)])
    stretch = Stretch([layer[0], ear], ALONG, {0}, "layer")
    stretch.check((0, 4), (0, 4), 0.25, (False, True))
    assert stretch.keys == {0}


class Table:
    seam = 0.25

    def __init__(self, *patches):
        self.work = Work(list(patches))

    def see(self, slot, kind):
        return self.work


def test_a_snip_takes_ears_near_its_edge_only():
    sides = [{(0, 0)}, (), (), ()]
    field = cloth(0, [(0, 0), (4, 0), (4, 4), (0, 4)], sides)

    def left(*corners):
        table = Table(field, cloth(1, corners))
        snip(table, 0, [edge(0, 0)])
        return [patch.area() for patch in table.work.patches if patch.key == 1]

    # Derived: a right-angled ear of 1/2 in legs has 1/8 square inch; cut at the line, what is above it stays.
    assert left((4, -0.5), (4.5, -0.5), (4.5, 0.5), (4, 0.5)) == pytest.approx([0.25])
    # Further than eight seams (2 in) from the edge's end it is other cloth.
    assert left((6, -0.5), (6.5, -0.5), (6.5, 0.5), (6, 0.5)) == pytest.approx([0.5])
    # No cloth on the inside of the line: left as it is.
    assert left((4, -0.5), (4.5, -0.5), (4.5, 0.01), (4, 0.01)) == pytest.approx([0.255])
    # An edge along the line: left as it is.
    assert left((4, -0.5), (4.5, 0), (4.2, 0), (4, 0.5)) != []


def test_stops_go_with_their_frames():
    work = Work([], {3: (1j, 2 + 0j, False)}, stops=[(3, 1 + 0j)])
    assert stops_of(work) == [2 + 1j]
    assert U == 8128

"""Sewn cloth cut up again: strip sets into lengths, stacks apart; recipes made by hand, right and wrong."""

import json

import makers
import makers_cut as cut_up
import pytest
from giving import Unit, units_differ
from makers import corner, edge, n, run
from plane import Line, Patch
from replay import Picture, judge


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe, drawn):
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


def refused(answer, *words):
    assert not answer["proved"]
    for word in words:
        assert word in answer["where"] + " " + answer["why"], answer


def step(recipe, what, make=0):
    return next(each[what] for each in recipe["recipe"]["makes"][make]["steps"] if what in each)


def test_a_strip_set_is_cut_into_lengths(verdict):
    # Derived: three lengths of 2 1/2 in from 8 in leave 1/2 in; first line 1/2 in or nothing from the end.
    for first in (0.5, 0.0, 0.25):
        answer = verdict(*cut_up.strip_set(first=first))
        assert answer["proved"], answer
        assert answer["largest_difference"] < 1e-6
    refused(verdict(*cut_up.strip_set(first=0.5625)), "sub-cut")  # the last length runs off the strips
    refused(verdict(*cut_up.strip_set(long=7.5)), "sub-cut")
    refused(verdict(*cut_up.strip_set(first=-0.25)), "sub-cut")
    refused(verdict(*cut_up.strip_set(width=2.4375)), "top")
    refused(verdict(*cut_up.strip_set(inner=2.5625)))
    refused(verdict(*cut_up.strip_set(lengths=2)), "unit top", "more of unit pair")


def test_every_length_has_all_its_strips(verdict):
    # The blue strip is a quarter shorter at the end that is cut first: from there on all is well, before it not.
    for first, words in ((0.5, ()), (0.25, ()), (0.125, ("sub-cut",))):
        recipe, drawn = cut_up.strip_set(first=first)
        blue = recipe["cutting"]["cloths"][1]["strips"][0]["runs"][0]["cuts"][0]
        blue["lower"] = blue["upper"] = n(7.75)
        ends = {"a": edge(0, 3), "b": edge(1, 1), "by": n(-0.25)}
        step(recipe, "lay")["how"]["edges"]["last"] = {"overhang": ends}
        answer = verdict(recipe, drawn)
        if words:
            refused(answer, *words)
        else:
            assert answer["proved"], (first, answer)

    def broken(change):
        recipe, drawn = cut_up.strip_set()
        change(recipe)
        return verdict(recipe, drawn)

    # Toward the other end nothing is left to cut; the corner on the first line tells no side.
    other = corner((0, 3), (0, 0))
    refused(broken(lambda recipe: step(recipe, "sub-cut").update(toward=other)), "sub-cut")
    on_line = cut_up.beside(0, 0, 3, ((0, 0), (0, 1)))
    refused(broken(lambda recipe: step(recipe, "sub-cut").update(first=on_line, toward=other)), "sub-cut", "on the cut")
    refused(broken(lambda recipe: step(recipe, "sub-cut").update(into=[])), "sub-cut", "no lengths")
    refused(broken(lambda recipe: step(recipe, "sub-cut").update(into=[10, 10, 11])), "sub-cut", "twice")
    refused(broken(lambda recipe: step(recipe, "sub-cut").update(width=n(0))), "sub-cut", "no lengths")
    # Along the strips a line runs through one of them only.
    along = cut_up.beside(0.5, 0, 0, ((1, 0), (1, 1)))
    refused(broken(lambda recipe: step(recipe, "sub-cut").update(first=along, toward=corner((1, 0), (1, 1)))), "sub-cut")
    # The work is used up; its lengths are not.
    recipe, drawn = cut_up.strip_set()
    recipe["recipe"]["makes"][0]["gives"].pop()
    refused(verdict(recipe, drawn), "left lying")


def test_lengths_are_found_by_old_names_and_new(verdict):
    def measured(of, one, other, measure):
        recipe, drawn = cut_up.strip_set()
        check = {"check": {"of": of, "what": {"across": [run(one), run(other)]}, "is": n(measure)}}
        recipe["recipe"]["makes"][0]["steps"].append(check)
        return verdict(recipe, drawn)["proved"]

    for slot in (10, 11, 12):
        assert measured(slot, (0, 0), (1, 0), 4.5)
        assert measured(slot, (slot, 0), (slot, 1), 2.5)
        assert not measured(slot, (slot, 0), (slot, 2), 2.5)
    assert not measured(10, (11, 0), (11, 1), 2.5)
    assert not measured(10, (0, 3), (10, 1), 2.5)  # the strips' own ends are gone
    assert not measured(2, (0, 0), (1, 0), 4.5)


# --- stacks cut apart with several paths, sewn round, laid on stacks ---------------------------------------------


def test_two_squares_sewn_round_and_cut_on_both_diagonals(verdict):
    answer = verdict(*cut_up.round_pairs())
    assert answer["proved"], answer
    assert answer["largest_difference"] < 0.001
    size = 2 * (2.5 / 2**0.5 + 0.25)
    refused(verdict(*cut_up.round_pairs(size=size + 1 / 16)), "top")
    # The squares are level all round, and the seam goes all round, a seam from the edge.
    refused(verdict(*cut_up.round_pairs(over=size + 1 / 16)), "sew", "level")
    refused(verdict(*cut_up.round_pairs(over=size - 1 / 16)), "sew", "level")
    refused(verdict(*cut_up.round_pairs(edges=(0, 1, 2))), "sew")
    refused(verdict(*cut_up.round_pairs(edges=(0, 1, 3, 2))), "sew")
    refused(verdict(*cut_up.round_pairs(edges=(1, 2, 3, 0)[::-1])), "sew")
    refused(verdict(*cut_up.round_pairs(by=0.375)), "sew", "the seam is")
    # Cut on one diagonal only, each half hangs by two lines of stitches.
    recipe, drawn = cut_up.round_pairs()
    steps = recipe["recipe"]["makes"][0]["steps"]
    steps[5:] = [makers.open_up(3, 13), makers.open_up(4, 14)]
    refused(verdict(recipe, drawn), "open", "has 2")


def test_two_squares_sewn_beside_both_diagonals_and_cut_in_eight(verdict):
    answer = verdict(*cut_up.eight_pairs())
    assert answer["proved"], answer
    assert answer["largest_difference"] < 0.001
    size = 2 * (2.5 + 0.25 * 2**0.5)
    refused(verdict(*cut_up.eight_pairs(size=size + 1 / 8)), "top")
    # Derived: of the other diagonal's stitches 2 s are left at the middle and come loose; cut 1/4 in past it, twice 0.6036 in.
    refused(verdict(*cut_up.eight_pairs(at=size / 2 + 1 / 4)), "open", "one line of stitches")
    # Cut beside the diagonal, the stitches are not a seam from the cut, and nothing tells which side is folded under.
    recipe, drawn = cut_up.eight_pairs()
    line = recipe["recipe"]["makes"][0]["steps"][7]["cut-apart"]["line"]["beside"]
    line["at"], line["toward"] = n(1 / 16), corner((0, 0), (3, 0))
    refused(verdict(recipe, drawn), "open")


def test_the_cut_edges_of_the_two_layers_have_names_of_their_own(verdict):
    def measured(of, one, other, measure):
        recipe, drawn = cut_up.eight_pairs()
        check = {"check": {"of": of, "what": {"across": [run(one), run(other)]}, "is": n(measure)}}
        recipe["recipe"]["makes"][0]["steps"].append(check)
        return verdict(recipe, drawn)["proved"]

    assert measured(17, (0, 0), (3, 1), 2.5) and measured(17, (1, 0), (3, 0), 2.5)
    assert not measured(17, (0, 0), (3, 0), 2.5)  # they lie square to one another
    assert not measured(17, (0, 0), (5, 0), 2.5)  # that cut is the other half's


def test_a_square_may_be_laid_on_a_stack(verdict):
    answer = verdict(*cut_up.four_geese())
    assert answer["proved"], answer
    assert answer["largest_difference"] < 0.001
    refused(verdict(*cut_up.four_geese(large=5.25 + 1 / 16)))
    refused(verdict(*cut_up.four_geese(small=2.8536 + 1 / 16)))
    # Once sewn, nothing more is laid on a stack.
    recipe, drawn = cut_up.four_geese()
    steps = recipe["recipe"]["makes"][0]["steps"]
    steps.insert(2, {"sew": {"stack": 10, "path": {"on-mark": "across"}}})
    refused(verdict(recipe, drawn), "lay", "sewn already")
    # The second square in a corner where the first one lies.
    recipe, drawn = cut_up.four_geese()
    corner_a = recipe["recipe"]["makes"][0]["steps"][2]["lay"]["how"]["corner"]
    corner_a["a"] = corner((0, 0), (0, 1))
    refused(verdict(recipe, drawn))
    # A corner of the upper layer is not the lower's.
    recipe, drawn = cut_up.four_geese()
    recipe["recipe"]["makes"][0]["steps"][2]["lay"]["how"]["corner"]["a"] = corner((1, 1), (1, 2))
    refused(verdict(recipe, drawn), "lay", "not there")


def test_a_side_of_the_cut_has_stitches_and_is_named(verdict):
    def broken(maker, nth, change):
        recipe, drawn = maker()
        steps = [each["cut-apart"] for each in recipe["recipe"]["makes"][0]["steps"] if "cut-apart" in each]
        change(steps[nth])
        return verdict(recipe, drawn)

    refused(broken(cut_up.eight_pairs, 0, lambda cut: cut["offcut"].clear()), "nothing is said")
    refused(broken(cut_up.eight_pairs, 0, lambda cut: cut["offcut"].append(cut["keep"][0]["corner"])), "both kept")
    refused(broken(cut_up.eight_pairs, 0, lambda cut: cut["keep"].append(dict(cut["keep"][0], into=77))), "twice")
    # A seam beside one edge only, cut far from it: the far side has no stitches.
    recipe, drawn = makers.four_patch()
    line = cut_up.beside(1, 0, 1, ((0, 2), (0, 3)))
    keep = [(((0, 0), (0, 1)), 50), (((0, 3), (0, 0)), 51)]
    recipe["recipe"]["makes"][0]["steps"].insert(2, cut_up.cut_apart(102, line, keep))
    refused(verdict(recipe, drawn), "cut-apart", "no stitches")


def test_a_cut_does_not_run_along_stitches(verdict):
    for off, good in ((0.0, True), (0.25, False), (0.125, False)):  # in the stitches; between the mark and the stitches
        recipe, drawn = cut_up.eight_pairs()
        steps = recipe["recipe"]["makes"][0]["steps"]
        if off:
            steps[7]["cut-apart"]["line"]["beside"].update(at=n(off), toward=corner((0, 0), (3, 0)))
        answer = verdict(recipe, drawn)
        assert answer["proved"] == good, (off, answer)
        if off == 0.25:
            refused(answer, "along the stitches")


def test_nothing_is_sewn_beside_edges_laid_on_a_stack(verdict):
    recipe, drawn = cut_up.round_pairs()
    make = recipe["recipe"]["makes"][0]
    make["parts"].append({"slot": 9, "take": {"piece": "W"}})
    ends = ("centre", "centre")
    make["steps"][3:4] = [
        makers.lay(2, 9, run((0, 1)), run((9, 3)), *ends, 90),
        makers.sew(90),
    ]
    for cloth in recipe["cutting"]["cloths"]:
        if cloth["fabric"] == "sea":
            cloth["strips"][0]["times"] = 2
    for cloth in recipe["bought"]["cloths"]:
        cloth["length"] = n(20)
    refused(verdict(recipe, drawn), "sew", "no edges were laid")


def square(key, *corners):
    places = [complex(*corner) for corner in corners]
    return Patch(key, "S", "sky", 1j, places, [frozenset([i]) for i in range(len(corners))], key)


def unit(split, tip):
    """Two pieces side by side, 4 by 4 in; where they meet leans by `tip` within the lower seam allowance."""
    left = square(0, (0, 0), (split + tip, 0), (split, 0.25), (split, 4), (0, 4))
    right = square(1, (split + tip, 0), (4, 0), (4, 4), (split, 4), (split, 0.25))
    sides = [
        (Line(0j, 1 + 0j), [(0j, complex(split + tip)), (complex(split + tip), 4 + 0j)]),
        (Line(4 + 0j, 1j), [(4 + 0j, 4 + 4j)]),
        (Line(4 + 4j, -1 + 0j), [(4 + 4j, split + 4j), (split + 4j, 4j)]),
        (Line(4j, -1j), [(4j, 0j)]),
    ]
    return Unit([left, right], [0j, 4 + 0j, 4 + 4j, 4j], [], {}, (), sides, 0.25)


def test_units_may_share_their_allowance_differently():
    # Derived: two seams are 1/2 in.
    assert units_differ(unit(2, 0), unit(2, 0), {}) is None
    assert units_differ(unit(2, -0.25), unit(2, 0.25), {}) is None
    assert units_differ(unit(2, -0.3), unit(2, 0.3), {}) is not None
    assert units_differ(unit(2, 0), unit(2.03, 0), {}) is not None
    other = unit(2, 0)
    other.sides[2][1][:] = [(4 + 4j, 4j)]
    assert "as many edges" in units_differ(unit(2, 0), other, {})
    other = unit(2, 0)
    other.patches[0].label = "T"
    assert "no like" in units_differ(unit(2, 0), other, {})

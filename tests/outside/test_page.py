"""The finer rules of docs/recipe.md, one by one; sources of values beside the checks."""

import json
import math

import agree
import makers
import pytest
from makers import U, edge, n, run
from plane import FOLD, Line, Patch, Refused, narrowest
from giving import goes_on, round_sides
from replay import Picture, judge
from rotary import lies_along
from stitches import Stretch
from work import Work

ALONG = Line(0j, 1 + 0j)


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe, drawn):
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


def cloth(key, corners, names=None):
    names = names or [()] * len(corners)
    places = [complex(*corner) for corner in corners]
    return Patch(key, str(key), "cloth", 1j, places, [frozenset(each) for each in names], key)


def across(of, one, other, measure):
    return {"check": {"of": of, "what": {"across": [one, other]}, "is": n(measure)}}


def test_only_an_edge_cut_off_or_folded_by_the_way_is_passed_over(verdict):
    # Derived: an opened half-square pair of 2 7/8 in squares measures 2.875 - 0.25 * sqrt 2 across.
    for first, good in (
        (run((0, 0)), True),
        (run((0, 0), (0, 2)), True),  # edge 2 went with the other half
        (run((0, 2), (0, 0)), True),
        (run((0, 2)), False),  # nothing else is named
        (run((0, 0), (0, 4)), False),  # there never was one
        (run((0, 0), (0, 1)), False),  # not flush
    ):
        recipe, drawn = makers.half_square()
        steps = recipe["recipe"]["makes"][0]["steps"]
        opened = next(i for i, step in enumerate(steps) if step.get("open", {}).get("into") == 5)
        steps.insert(opened + 1, across(5, first, run((1, 3)), 2.875 - 0.25 * 2**0.5))
        assert verdict(recipe, drawn)["proved"] == good, first


def test_a_sewn_edge_cannot_be_named_again(verdict):
    for first, good in ((run((0, 0), (1, 0)), True), (run((0, 0), (0, 1), (1, 0)), False)):
        recipe, drawn = makers.four_patch()
        recipe["recipe"]["makes"][0]["steps"].append(across(2, first, run((1, 2), (0, 2)), 2.5))
        answer = verdict(recipe, drawn)
        assert answer["proved"] == good, answer


def test_a_trimmed_edge_loses_its_old_name(verdict):
    recipe, drawn = makers.half_square()
    gives = recipe["recipe"]["makes"][0]["gives"]
    assert gives[0]["sides"][2] == run((7, 0))
    gives[0]["sides"][2] = run((1, 3))
    assert "edge 3 of slot 1" in verdict(recipe, drawn)["why"]


def test_steps_name_what_lies_on_the_table(verdict):
    for of, good in ((2, True), (0, False), (1, False), (102, False)):
        recipe, drawn = makers.four_patch()
        recipe["recipe"]["makes"][0]["steps"].append(across(of, run((0, 0), (1, 0)), run((1, 2), (0, 2)), 2.5))
        assert verdict(recipe, drawn)["proved"] == good, of


def test_everything_is_listed_and_made_once(verdict):
    recipe, drawn = makers.four_patch()
    recipe["recipe"]["fabrics"].append(dict(recipe["recipe"]["fabrics"][0]))
    assert "twice among the fabrics" in verdict(recipe, drawn)["why"]
    recipe, drawn = makers.four_patch()
    del recipe["recipe"]["fabrics"][0]
    assert "not among the fabrics" in verdict(recipe, drawn)["why"]
    recipe, drawn = makers.four_patch()
    pair = recipe["recipe"]["makes"][0]
    pair["times"] = 1
    recipe["recipe"]["makes"].insert(1, pair)
    assert "has a making already" in verdict(recipe, drawn)["why"]


def test_a_print_may_point_a_degree_off(verdict):
    for degrees, good in ((0.9, True), (-0.9, True), (1.1, False), (-1.1, False), (180, False)):
        recipe, drawn = makers.four_patch(prints={"red": "one-way"})
        angle = math.radians(90 + degrees)
        toward = {"x": math.cos(angle), "y": math.sin(angle)}
        drawn["faces"][0]["up"] = {"toward": toward, "two_way": False}
        assert verdict(recipe, drawn)["proved"] == good, degrees


def test_a_sliver_is_no_face():
    # Derived: a band's width is its height; a triangle's, its least height.
    assert narrowest([0j, 3 + 0j, 3 + 0.01j, 0.01j]) == pytest.approx(0.01)
    assert narrowest([0j, 4 + 0j, 3j]) == pytest.approx(12 / 5)


def test_what_a_snip_leaves_alone():
    ear = cloth(1, [(0, -0.5), (1, 0), (0, 0)])
    assert lies_along(ear, ALONG)
    assert not lies_along(cloth(2, [(0, -0.5), (1, 0.1), (0, 0.3)]), ALONG)


def cornered(ear_names):
    """A 4 in square whose lower right corner is another piece's snipped ear."""
    sides = [{(0, 0)}, {FOLD}, {(0, 1)}, {(0, 2)}, {(0, 3)}]
    field = cloth((0, 0), [(0, 0), (3.5, 0), (4, 0.5), (4, 4), (0, 4)], sides)
    ear = cloth((1, 0), [(3.5, 0), (4, 0), (4, 0.5)], [*ear_names, {FOLD}])
    bearers = {name: {patch.key} for patch in (field, ear) for names in patch.names for name in names}
    return Work([field, ear], {}, {}, bearers)


def test_nameless_raw_edges_carry_a_side_on_to_its_corner():
    sides = [[edge(0, side)] for side in range(4)]
    _, corners = round_sides(cornered([(), ()]), sides, 0.25)
    assert corners == pytest.approx([0j, 4 + 0j, 4 + 4j, 4j])
    for names in ([{FOLD}, ()], [(), {FOLD}], [{(1, 0)}, ()], [(), {(1, 1)}]):
        with pytest.raises(Refused, match="side 1 begins"):
            round_sides(cornered(names), sides, 0.25)
    gap = Work([cloth(1, [(3.5, 0), (3.8, 0), (3.5, 1)])])
    assert goes_on(gap, ALONG, 3.5, 3.8 + 1 / 128) and not goes_on(gap, ALONG, 3.5, 3.9)


def row(*widths, start=0.0):
    """Pieces side by side, half an inch below the stitch line and two above."""
    patches = []
    for key, width in enumerate(widths):
        patches.append(cloth(key, [(start, -0.5), (start + width, -0.5), (start + width, 2), (start, 2)]))
        start += width
    return patches


def test_joints_lie_between_pieces_of_the_run_inside_the_finished_corners():
    # The first and the last piece, a seam wide, end at the corners; the middle two are 2 in and 3 in long.
    layer = row(0.25, 2, 3, 0.25)
    stretch = Stretch(layer, ALONG, {0, 1, 2, 3}, "layer")
    assert stretch.joints((0.25, 5.25), 0.25) == pytest.approx([2.25])
    assert stretch.joints((0.1, 5.25), 0.25) == pytest.approx([0.25, 2.25])
    assert Stretch(layer, ALONG, {0, 1, 3}, "layer").joints((0.1, 5.4), 0.25) == pytest.approx([0.25, 3.75])
    # A stretch no longer than the tolerance is none.
    assert Stretch(row(2, 1 / 64, 2), ALONG, {0, 1, 2}, "layer").joints((0, 4), 0.25) == pytest.approx([2 + 1 / 128])


def test_what_the_stitches_may_go_through():
    layer = row(1, 4, 1)
    of_run = Stretch(layer, ALONG, {1}, "layer")
    of_run.check((0.75, 5.25), (1, 5), 0.25)
    assert of_run.keys == {0, 1, 2} and of_run.faces == {0, 1, 2}
    with pytest.raises(Refused, match="catch piece 0"):
        of_run.check((0.75, 5.25), (0.9, 5), 0.25)
    with pytest.raises(Refused, match="no cloth under"):
        of_run.check((0.75, 6.25), (1, 5), 0.25)
    # At most four seams past the end: 1 in at a 1/4 in seam.
    far = Stretch(row(1.5, 4), ALONG, {1}, "layer")
    far.check((0.75, 5.5), (1.5, 5.25), 0.25)
    with pytest.raises(Refused, match="goes on 1.2500 in"):
        far.check((1.25, 5.5), (1.5, 5.25), 0.25)


def test_agreement(tmp_path, capsys):
    good, drawn = makers.four_patch()
    bad, _ = makers.four_patch(red=2.5 + 1000 / U)
    (tmp_path / "picture.json").write_text(json.dumps(drawn))
    (tmp_path / "good.json").write_text(json.dumps(good))
    (tmp_path / "bad.json").write_text(json.dumps(bad))

    def said(*verdicts):
        lines = [json.dumps({"file": file, "proved": proved}) for file, proved in verdicts]
        (tmp_path / "verdicts.jsonl").write_text("\n".join(lines) + "\n")
        status = agree.main([str(tmp_path)])
        return status, [json.loads(line) for line in capsys.readouterr().out.splitlines()]

    status, lines = said(("good.json", True), ("bad.json", False))
    assert status == 0 and lines == [{"recipes": 2, "proved": 1, "differ": 0}]
    status, lines = said(("good.json", False), ("bad.json", True))
    assert status == 1 and [line["file"] for line in lines[:2]] == ["good.json", "bad.json"] and lines[2]["differ"] == 2
    assert said(("gone.json", False))[0] == 2
    assert said()[0] == 2
    (tmp_path / "verdicts.jsonl").unlink()
    assert agree.main([str(tmp_path)]) == 2

"""Foundation papers: a section made by hand, right and with one fact broken; closed forms beside the checks."""

import json
from types import SimpleNamespace

import makers_paper
import pytest
from makers import edge, n, run
from makers_paper import ROOT, sheet, three
from papers import Paper
from plane import Patch, Refused
from replay import Picture, judge
from sections import OverPaper, Section, sew_on_paper
from work import Work


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe_and_picture):
        recipe, drawn = recipe_and_picture
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


def refused(answer, *words):
    assert not answer["proved"]
    for word in words:
        assert word in answer["where"] + " " + answer["why"], answer


def changed(change, **how):
    recipe, drawn = three(**how)
    change(recipe["recipe"]["makes"][0]["steps"])
    return recipe, drawn


def test_three_pieces_on_a_sheet(verdict):
    answer = verdict(three())
    assert answer["proved"], answer
    assert answer["seams"] == 2 and answer["largest_difference"] < 1e-6
    for margin in (0.0, 0.125):
        assert verdict(three(margin=margin))["proved"]
    # Not pared, cut so that a seam is left.
    refused(verdict(three(pared=False)), "step 2 (lay)", "0.5000", "not level")
    assert verdict(three(pared=False, margin=0.0))["proved"] is False  # the second line still is not level at its left end


def test_the_print_is_the_mirror(verdict):
    recipe, drawn = three()
    for face in drawn["faces"]:
        face["outline"] = [{"x": 4 - p["x"], "y": p["y"]} for p in reversed(face["outline"])]
    refused(verdict((recipe, drawn)), "top")
    # The sides follow in falling order.
    for sides in ((0, 1, 2, 3), (2, 3, 0, 1), (3, 1, 2, 0)):
        recipe, drawn = three()
        recipe["recipe"]["makes"][0]["steps"][-1]["finish"]["sides"] = [run((30, side)) for side in sides]
        refused(verdict((recipe, drawn)))
    recipe, drawn = three()
    recipe["recipe"]["makes"][0]["steps"][-1]["finish"]["up"] = 0
    refused(verdict((recipe, drawn)), "top")


def test_margins(verdict):
    # The pieces cover by just as much as is printed; the tolerance is a sixty-fourth.
    assert verdict(three(printed=0.25 + 1 / 65))["proved"]
    refused(verdict(three(printed=0.25 + 1 / 60)), "step 1 (spread)", "by 0.2500 in only")
    assert verdict(three(margin=0.25, printed=0.125))["proved"]
    # Each piece shifted along its line by a thirty-second, or cut as much smaller.
    for area, step in ((0, "step 1 (spread)"), (1, "step 3 (lay)"), (2, "step 7 (lay)")):
        _, before, length, depth = makers_paper.along(area, 0.25)
        for off in (1 / 32, -1 / 32):
            refused(verdict(three(lay={area: {"beyond": n(before + off)}})), step, "covers")
        for smaller in ("height", "lower"):
            recipe, drawn = three()
            strip = recipe["cutting"]["cloths"][area]["strips"][0]
            if smaller == "height":
                strip["height"] = n(depth - 1 / 32)
            else:
                strip["runs"][0]["cuts"][0].update(lower=n(length - 1 / 32), upper=n(length - 1 / 32))
            refused(verdict((recipe, drawn)), step, "covers")
    # Even with no margin printed a piece must cover; a margin less than nothing is none.
    refused(verdict(three(margin=-1 / 16, printed=0.0)), "step 1 (spread)", "covers")
    refused(verdict(three(printed=-1 / 16)), "step 1 (spread)", "less than nothing")
    # The first piece has nothing behind it to be level with: it may lie further past its line.
    past = makers_paper.along(0, 0.25)[0]
    refused(verdict(three(lay={0: {"past": n(past - 1 / 32)}})), "step 1 (spread)", "covers")


def test_a_seam_behind_every_line(verdict):
    for area, step in ((1, "step 3 (lay)"), (2, "step 7 (lay)")):
        for past in (0.25 + 1 / 128, 0.25 - 1 / 128, 0.5):
            refused(verdict(three(lay={area: {"past": n(past)}})), step, "the seam is")
    for number, words in ((1, "step 2 (pare)"), (5, "step 6 (pare)")):
        for past in (0.3125, 0.1875):
            answer = verdict(changed(lambda steps: steps[number]["pare"].update(past=n(past))))
            refused(answer, words, "the seam is")


def test_lines_are_sewn_in_order_and_once(verdict):
    refused(verdict(changed(lambda steps: steps[1]["pare"].update(line=1))), "step 2 (pare)", "not the next")
    over = lambda steps: steps[2]["lay"]["how"]["over-paper"]  # noqa: E731
    refused(verdict(changed(lambda steps: over(steps).update(line=1))), "step 3 (lay)", "not the next")
    refused(verdict(changed(lambda steps: steps.insert(4, steps[3]))), "step 5 (sew)", "sewn already")
    refused(verdict(changed(lambda steps: steps.pop(3))), "step 4 (open)", "not sewn")
    refused(verdict(changed(lambda steps: steps.pop(0))), "step 1 (pare)", "slot 10")
    refused(verdict(changed(lambda steps: steps[1]["pare"].update(of=0))), "step 2 (pare)", "slot 0")
    refused(verdict(changed(lambda steps: steps[3]["sew"].update(join=True))), "step 4 (sew)")
    beside = {"beside": {"by": n(0.25), "from": "raw", "to": "raw"}}
    refused(verdict(changed(lambda steps: steps[3]["sew"].update(path=beside))), "step 4 (sew)")
    refused(verdict(changed(lambda steps: steps[-2]["cut-out"].update(of=11))), "slot 11")

    def too_soon(steps):
        steps[5:] = [{"cut-out": {"of": 11, "into": 30}}, *steps[-1:]]

    refused(verdict(changed(too_soon)), "step 6 (cut-out)", "2 of 3 areas")
    # A section is no work before it is cut out.
    for step in (
        {"check": {"of": 12, "what": {"across": [run((2, 0)), run((2, 2))]}, "is": n(3)}},
        {"snip": {"of": 12, "along": [edge(2, 0)]}},
        {"finish": {"top": 12, "sides": [run((30, side)) for side in (3, 2, 1, 0)], "up": 1, "seam": n(0.25)}},
    ):
        refused(verdict(changed(lambda steps: steps.insert(9, step))), "step 10", "a section of foundation paper")
    # After it is cut out its seams can be named: the bar, from the slanted line's end on it 2 in on to the cutting line.
    crossing = {"crossing": [{"seam": {"of": 11, "seam": 0}}, {"seam": {"of": 12, "seam": 0}}]}
    far = {"crossing": [{"seam": {"of": 12, "seam": 0}}, {"edge": edge(30, 3)}]}
    for measure, good in ((2.0, True), (2.0 + 1 / 32, False)):
        check = {"check": {"of": 30, "what": {"between": [crossing, far]}, "is": n(measure)}}
        assert verdict(changed(lambda steps: steps.insert(10, check)))["proved"] == good


def test_stitches_reach_the_ends_of_the_seam(verdict):
    # Derived: a quarter inch of allowance is crossed in 1/4 * sqrt(1 + 1/16) = 0.2577 along the slanted line.
    assert verdict(three(beyond=0.25 * ROOT))["proved"]
    assert verdict(three(beyond=0.25 * ROOT - 1 / 65))["proved"]
    refused(verdict(three(beyond=0.25 * ROOT - 1 / 60)), "step 4 (sew)", "do not reach")


def test_every_copy_is_used(verdict):
    refused(verdict(three(copies=2)), "paper sheet", "1 left over")
    refused(verdict(three(copies=0)), "more of paper sheet")
    recipe, drawn = three()
    recipe["cutting"]["papers"].append(recipe["cutting"]["papers"][0])
    refused(verdict((recipe, drawn)), "paper sheet", "twice")
    recipe, drawn = three()
    recipe["cutting"]["papers"] = []
    refused(verdict((recipe, drawn)), "takes paper sheet")


def test_a_piece_as_it_was_cut(verdict):
    def snipped(steps):
        steps.insert(0, {"snip": {"of": 1, "along": [edge(1, 0)]}})

    refused(verdict(changed(snipped)), "as it was cut")


def test_what_a_sheet_must_be():
    def read(change=None, **how):
        data = sheet(**how)
        if change:
            change(data)
        return Paper(data, 0.25)

    paper = read()
    # Derived: from the bar down, (1 + 1.75) / 2 * 3, and what is beside it; the bar an inch high.
    assert [area_of(area) for area in paper.areas] == pytest.approx([4.125, 7.875, 4.0])
    bar = ((0, 3), (4, 3))
    for lines, word in (
        ([((1.75, 3), (1, 1 / 60)), bar], "edge to edge"),
        ([((1.75, 3 + 1 / 60), (1, 0)), bar], "beyond line 1"),
        ([((1.75, 3), (1.75, 3 + 1 / 65)), bar], "no longer"),
        ([((1, 4 - 1 / 70), (1, 0)), ((0, 4 - 1 / 70), (4, 4 - 1 / 70))], "area 2 is a sliver"),
        ([((4 - 1 / 70, 3), (4 - 1 / 70, 0)), bar], "area 1 is a sliver"),
        ([((1.75, 3), (1, 0)), bar[::-1]], "line 0 ends beyond line 1"),
        ([bar, ((1.75, 3), (1, 0))], "line 1 does not go from edge to edge"),
    ):
        with pytest.raises(Refused, match=word):
            read(lines=lines)
    assert len(read(lines=[((1.75, 3), (1, 1 / 65)), bar]).areas) == 3
    assert read(lines=[]).wanted(0) == read().cut.corners
    for change, word in (
        (lambda data: data["outline"].reverse(), "not convex"),
        (lambda data: data["cutting"].pop(), "corner for corner"),
        (lambda data: data["cutting"].insert(0, data["cutting"].pop()), "not a seam"),
        (lambda data: data["cutting"][2].update(up=data["cutting"][2]["up"] + 8128000 // 60), "0.2667"),
        (lambda data: data["cutting"][2].update(up=data["cutting"][2]["up"] + 0.5), "whole number"),
    ):
        with pytest.raises(Refused, match=word):
            read(change)


def area_of(corners):
    return abs(sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(len(corners)))) / 2


def test_something_caught(verdict):
    refused(verdict(changed(lambda steps: steps.pop(5))), "step 6 (lay)", "not level")
    # Cloth of an area half an inch off the line lies under the stitches.
    paper = Paper(sheet(lines=[((1, 4), (1, 0)), ((1.5, 4), (1.5, 0)), ((2, 4), (2, 0))]), 0.25)
    making = SimpleNamespace(seam=0.25, sewn=0, see=lambda slot, kind: slot)
    for far, good in ((False, True), (True, False)):
        patches = [strip_of(number, -low - wide, wide) for number, low, wide in ((0, -1, 2), (1, 1, 0.5), (2, 1.5, 1))]
        if far:
            patches[0] = strip_of(0, -3, 4)
        upper = Work([strip_of(3, -6, 4.25)])
        lying = OverPaper(Section(paper, patches, [0, 1, 2]), upper, 2, (1 + 0j, 0j, False), (9, 0))
        if good:
            sew_on_paper(making, lying, {"beyond": n(0.25)}, False)
            assert lying.sewn and making.sewn == 1
        else:
            with pytest.raises(Refused, match="catch piece 0, whose area lies 1.0000 in off"):
                sew_on_paper(making, lying, {"beyond": n(0.25)}, False)


def strip_of(key, right, wide):
    """Cloth from top to bottom of the sheet and beyond; the print's box is a seam larger than its outline."""
    corners = [complex(right - 0.25 + x, y) for x, y in ((0, -1), (wide, -1), (wide, 6), (0, 6))]
    return Patch(key, str(key), "cloth", 1j, corners, [frozenset()] * 4, key)

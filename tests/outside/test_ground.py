"""Pieces laid on a ground: recipes made by hand, right and with one fact broken; closed forms beside the checks."""

import copy
import json

import makers_ground as ground
import pytest
from makers import edge, n, run
from makers_ground import DIAMOND, GROUND, LEAF, around, down, hills, posy
from replay import Picture, judge


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


def changed(change, maker=posy, make=0, **how):
    recipe, drawn = maker(**how)
    change(recipe["recipe"]["makes"][make]["steps"])
    return recipe, drawn


def shapes(under):
    return [(LEAF, under, ()), (DIAMOND, (), ())]


@pytest.mark.parametrize("how", [{}, {"from_back": True}, {"raw": True}, {"under": ()}, {"by": 0.125}])
def test_a_leaf_under_a_diamond(verdict, how):
    answer = verdict(posy(**how))
    assert answer["proved"], answer
    assert answer["largest_difference"] < 1e-6


def test_a_hill_sewn_into_the_seams(verdict):
    answer = verdict(hills())
    assert answer["proved"], answer
    assert answer["largest_difference"] < 1e-6
    # With no stretch level the hill lies nearer the ground's edge than a seam.
    refused(verdict(hills(level=())), "unit square, step 2 (stitch-down)", "not a seam")
    refused(verdict(hills(level=((4, 1),))), "step 2 (stitch-down)", "not a seam")
    refused(verdict(hills(level=((4, 3),))), "step 2 (stitch-down)", "not level")
    refused(verdict(hills(level=((4, 5),))), "guide sheet", "not there")
    # Where it is level nothing is turned under, above it a seam: not where it is cut on its line.
    refused(verdict(hills(cut_line=ground.HILL)), "step 2 (stitch-down)", "at the least")
    # Both corners level, each with another side of the ground: the edge from the one to the other with none.
    cut_off = [-0.25 - 0.25j, 1 - 0.25j, -0.25 + 1j]
    recipe, drawn = hills()
    recipe["cutting"]["guides"][0]["shapes"] = ground.guide(GROUND, (cut_off, (), ((0, 2),)))["shapes"]
    template = recipe["cutting"]["templates"][0]
    other = ground.template("hill", cut_off, [cut_off[0], cut_off[1] + 0.4, cut_off[2] + 0.4j])
    template.update(other)
    refused(verdict((recipe, drawn)), "step 2 (stitch-down)", "edge 1 of the shape is not level")


def test_what_shows_is_what_the_picture_says(verdict):
    def drawn_otherwise(change, **how):
        recipe, drawn = posy(**how)
        change(drawn["laid"])
        return recipe, drawn

    refused(verdict(drawn_otherwise(lambda laid: laid.reverse())), "top", "other way about")
    refused(verdict(drawn_otherwise(lambda laid: laid.pop())), "top", "no face")
    twice = drawn_otherwise(lambda laid: laid.append(copy.deepcopy(laid[0])))
    refused(verdict(twice), "top", "1 faces of the picture are missing")
    refused(verdict(drawn_otherwise(lambda laid: laid[0].update(fabric="rose"))), "top, face of piece L", "picture has rose")
    refused(verdict(drawn_otherwise(lambda laid: laid[1]["outline"][0].update(x=4.03))), "top, face of piece D", "differs")
    recipe, drawn = posy()
    del drawn["laid"]
    refused(verdict((recipe, drawn)), "top, face of piece")
    recipe, drawn = posy()
    drawn["faces"].append(drawn["laid"].pop())  # not pieced but laid
    refused(verdict((recipe, drawn)), "top")
    # A print's up: cut with its up along the cloth, and laid as it was cut; printed for the back as well.
    for back in (False, True):
        for up, good in (((0, 1), True), ((1, 0), False), ((0, -1), False)):
            recipe, drawn = posy(from_back=back)
            drawn["laid"][0]["up"] = {"toward": {"x": up[0], "y": up[1]}, "two_way": False}
            assert verdict((recipe, drawn))["proved"] == good
    # Pieces that do not lie on one another come in any order.
    small = [2 + 4j, 3 + 4j, 3 + 5j, 2 + 5j]
    recipe, drawn = posy(over=small, under=())
    assert verdict((recipe, drawn))["proved"]
    drawn["laid"].reverse()
    assert verdict((recipe, drawn))["proved"]


def test_the_sheet_lies_on_its_ground(verdict):
    sides = [run((0, side)) for side in range(4)]
    refused(verdict(changed(lambda steps: steps[0]["guide"].update(sides=sides[1:] + sides[:1]))), "top")
    refused(verdict(changed(lambda steps: steps[0]["guide"].update(sides=sides[::-1]))), "step 1 (guide)")
    refused(verdict(changed(lambda steps: steps[0]["guide"].update(sides=sides[:3]))), "step 1 (guide)", "4 sides, 3")
    refused(verdict(changed(lambda steps: steps.insert(1, steps[0]))), "step 2 (guide)", "laid twice")
    refused(verdict(changed(lambda steps: steps[0]["guide"].update(guide="other"))), "step 1 (guide)", "no sheet other")
    refused(verdict(changed(lambda steps: steps.pop(0))), "step 1 (stitch-down)", "does not lie on")
    for off, good in ((1 / 65, True), (1 / 30, False)):  # the middle of its lower edge stays: half of it at either end
        recipe, drawn = posy()
        recipe["cutting"]["guides"][0]["outline"][1]["right"] += round(off * 8128000)
        recipe["cutting"]["guides"][0]["outline"][2]["right"] += round(off * 8128000)
        answer = verdict((recipe, drawn))
        assert answer["proved"] == good, answer
    recipe, drawn = posy()
    recipe["cutting"]["guides"].append(recipe["cutting"]["guides"][0])
    refused(verdict((recipe, drawn)), "guide sheet", "one name")
    recipe, drawn = posy()
    recipe["cutting"]["guides"][0]["outline"].reverse()
    refused(verdict((recipe, drawn)), "guide sheet", "not convex")


def test_shapes_are_stitched_down_in_order_and_all(verdict):
    refused(verdict(changed(lambda steps: steps.insert(1, steps.pop(2)))), "step 2 (stitch-down)", "not the next")
    refused(verdict(changed(lambda steps: steps[1]["stitch-down"].update(piece=2))), "step 2 (stitch-down)", "corners")
    refused(verdict(changed(lambda steps: steps.pop(2))), "step 3 (finish)", "1 of the 2 shapes")
    refused(verdict(changed(lambda steps: steps.insert(3, down(2, 2)))), "step 4 (stitch-down)", "not the next")
    refused(verdict(changed(lambda steps: steps[1]["stitch-down"].update(piece=0))), "step 2 (stitch-down)")
    refused(verdict(changed(lambda steps: steps[1]["stitch-down"].update(guide="x"))), "step 2 (stitch-down)")


def test_a_piece_with_a_line_is_only_stitched_down(verdict):
    for step in (
        {"check": {"of": 1, "what": {"across": [run((1, 0)), run((1, 2))]}, "is": n(1)}},
        {"snip": {"of": 1, "along": [edge(1, 0)]}},
        {"baste": {"piece": 1, "card": "c", "side": 0, "along": edge(1, 0), "least": n(0.1), "most": n(1), "into": 9}},
    ):
        refused(verdict(changed(lambda steps: steps.insert(0, step))), "step 1")
    plain = changed(lambda steps: steps[1]["stitch-down"].update(piece=3))
    plain[0]["recipe"]["makes"][0]["parts"].append({"slot": 3, "take": {"piece": "G"}})
    plain[0]["cutting"]["cloths"][0]["strips"][0]["times"] = 2
    plain[0]["bought"]["cloths"][0]["length"] = n(20)
    refused(verdict(plain), "step 2 (stitch-down)", "no line")


def test_lines_agree_corner_for_corner(verdict):
    for off, good in ((1 / 65, True), (1 / 60, False)):
        leaf = [*LEAF[:3], LEAF[3] + 1j * off, LEAF[4]]
        answer = verdict(posy(leaf=leaf, leaf_cut=around(LEAF, 0.25)))
        assert answer["proved"] == good, answer
    turned = LEAF[1:] + LEAF[:1]
    refused(verdict(posy(leaf=turned)), "step 2 (stitch-down)", "corner")
    # Printed as for the back and laid as for the front, it is the mirror image.
    recipe, drawn = posy(from_back=True)
    for template in recipe["cutting"]["templates"]:
        del template["applique"]["from_back"]
    refused(verdict((recipe, drawn)), "cloth", "once round")


def test_how_much_is_turned_under(verdict):
    for by, good in ((0.25 + 1 / 65, True), (0.25 - 1 / 65, True), (0.25 + 1 / 60, False), (0.25 - 1 / 60, False)):
        answer = verdict(changed(lambda steps: steps[2]["stitch-down"]["edge"]["turned"].update(by=n(by))))
        assert answer["proved"] == good, (by, answer)
    refused(verdict(posy(by=1 / 70)), "step 2 (stitch-down)", "only")
    # One corner cut nearer, one edge further: an edge moved out by 3/8 in is within twice as much, by 9/16 not.
    near = around(DIAMOND, 0.25)
    near[1] = DIAMOND[1] + 0.2
    refused(verdict(posy(diamond_cut=near)), "step 3 (stitch-down)", "at the least")
    for far, good in ((0.375, True), (0.5 + 1 / 70, True), (9 / 16, False)):
        answer = verdict(posy(diamond_cut=wider(far)))
        assert answer["proved"] == good, (far, answer)
    assert "more than twice" in answer["why"]
    # Turned by nothing, or raw where it was cut with cloth to turn.
    raw = {"edge": "raw"}
    refused(verdict(changed(lambda steps: steps[2]["stitch-down"].update(raw))), "step 3 (stitch-down)", "left raw")
    refused(verdict(changed(lambda steps: steps[1]["stitch-down"].update(raw))), "step 2 (stitch-down)", "under another")
    turned = {"edge": {"turned": {"by": n(0.25)}}}
    refused(verdict(changed(lambda steps: steps[1]["stitch-down"].update(turned), raw=True)), "step 2 (stitch-down)")
    refused(verdict(posy(diamond_cut=[0.9 * (z - 4 - 2.5j) + 4 + 2.5j for z in DIAMOND])), "step 3 (stitch-down)")


def wider(far):
    """The diamond's cut outline with its first edge further out."""
    count, lines = 4, []
    for i in range(count):
        start, end = DIAMOND[i], DIAMOND[(i + 1) % count]
        way = (end - start) / abs(end - start)
        lines.append((start - 1j * way * (far if i == 0 else 0.25), way))
    corners = []
    for (at, way), (other, onward) in zip([lines[-1], *lines[:-1]], lines):
        share = ((other - at).conjugate() * onward).imag / (way.conjugate() * onward).imag
        corners.append(at + way * share)
    return corners


def test_what_is_left_unturned_lies_under_another(verdict):
    assert verdict(posy(under=((1, 2),)))["proved"]
    for under in (((1, 1),), ((0, 2),), ((2, 3),), ((1, 2), (3, 4))):
        assert not verdict(posy(under=under))["proved"], under
    refused(verdict(posy(shapes=[(LEAF, (), ()), (DIAMOND, ((0, 1),), ())])), "step 4 (finish)", "under no other")
    refused(verdict(posy(shapes=shapes(under=((1, 7),)))), "guide sheet", "not there")
    # The leaf's upper right corner 0.215 in inside the diamond's edge: less than its turn-under lies beneath it.
    refused(verdict(posy(over=[z + 0.45 for z in DIAMOND])), "step 4 (finish)", "under no other")


def test_it_lies_on_the_ground(verdict):
    # The diamond's right corner is half an inch from the finished edge: at it, it is just a seam inside the raw one.
    for right, good in ((0.5, True), (0.5 + 1 / 65, True), (0.5 + 1 / 60, False)):
        answer = verdict(posy(over=[z + right for z in DIAMOND], under=()))
        assert answer["proved"] == good, (right, answer)
    assert "not a seam" in answer["why"]


def test_units_carry_the_like(verdict):
    # Two squares given by one making, one with a hill and one without, are not alike.
    recipe, drawn = hills()
    square = recipe["recipe"]["makes"][0]
    square["times"] = 1
    square["parts"].append({"slot": 5, "take": {"piece": "S"}})
    square["gives"].append({"slot": 5, "sides": [run((5, side)) for side in range(4)], "seams": []})
    recipe["recipe"]["pieces"] = [{**note, "spare": 1 if note["piece"] == "H" else 0} for note in recipe["recipe"]["pieces"]]
    refused(verdict((recipe, drawn)), "unit square", "not all of these units are alike")

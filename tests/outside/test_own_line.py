"""Whose line counts where a piece lies on a sheet: the piece's own; and what a stretch left unturned lies under."""

import json

import makers_ground as ground
import pytest
from makers_ground import LEAF, around, posy
from replay import Picture, judge

OFF = 1 / 65  # within the tolerance, twice it is not


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe_and_picture):
        recipe, drawn = recipe_and_picture
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


def leaf(up):
    """The leaf with its last corner, on its hollow side, so far further up."""
    return [*LEAF[:4], LEAF[4] + 1j * up]


def drawn_with(recipe_and_picture, line):
    recipe, drawn = recipe_and_picture
    drawn["laid"][0]["outline"] = [{"x": z.real, "y": z.imag} for z in line]
    return recipe, drawn


def test_the_turn_under_is_measured_from_the_pieces_own_line(verdict):
    # The piece's line lies OFF inside the sheet's, its cut edge OFF less than the turn-under from its own: from the sheet's
    # twice that would be missing.
    cut = around(leaf(-OFF), 0.25 - OFF)
    answer = verdict(posy(leaf=leaf(-OFF), leaf_cut=cut))
    assert answer["proved"], answer
    answer = verdict(posy(leaf=leaf(-OFF), leaf_cut=around(leaf(-OFF), 0.25 - 2 * OFF)))
    assert not answer["proved"] and "at the least" in answer["why"]


def test_what_shows_is_the_pieces_own_line(verdict):
    for own, shown, good in ((OFF, 0, True), (-OFF, 0, True), (OFF, OFF, True), (OFF, 2 * OFF, True), (OFF, -OFF, False)):
        made = posy(leaf=leaf(own), leaf_cut=around(leaf(own), 0.25))
        answer = verdict(drawn_with(made, leaf(shown)))
        assert answer["proved"] == good, (own, shown, answer)


def two_over(reach):
    """The leaf's right end under two shapes, one from below, one from above, each so far beyond the end's middle."""
    # The end runs from 4 + 2j up to 4 + 3.25j; its middle is 2.625 up.
    low = [3.25 + 1j, 5 + 1j, 5 + (2.625 + reach) * 1j, 3.25 + (2.625 + reach) * 1j]
    high = [3.25 + (2.625 - reach) * 1j, 5 + (2.625 - reach) * 1j, 5 + 4.5j, 3.25 + 4.5j]
    shapes = [(LEAF, ((1, 2),), ()), (low, (), ()), (high, (), ())]
    recipe, drawn = posy(shapes=shapes, over=low)
    # The second shape over it is of another cloth and template.
    template = ground.template("high", high, around(high, 0.25))
    recipe["cutting"]["templates"].append(template)
    plum = ground.pattern({"plum": [ground.cut_by(template, "P")]}, {"P": "plum"}, [], templates=[template])
    for where, what in (("recipe", "fabrics"), ("recipe", "pieces"), ("cutting", "cloths"), ("bought", "cloths")):
        recipe[where][what] += plum[where][what]
    making = recipe["recipe"]["makes"][0]
    making["parts"].append(ground.part(3, "P"))
    making["steps"].insert(3, ground.down(3, 2))
    drawn["laid"].append(ground.picture(6, 6, ("plum", [(z.real, z.imag) for z in high]))["faces"][0])
    return recipe, drawn


def test_a_stretch_left_unturned_lies_under_one_shape(verdict):
    # Reaching 1 in past the middle, either covers the end and its turn-under alone; by 3/8 in neither does, though every corner
    # of the end and its middle lies deep enough under one of the two.
    assert verdict(two_over(1.0))["proved"]
    answer = verdict(two_over(0.375))
    assert not answer["proved"] and "under no other" in answer["why"], answer


def test_a_tip_that_just_reaches_a_neighbour_is_carried_by_it(verdict):
    # Two grounds joined at 3 in; a raw triangle comes 0.3 in over the join. What it shares there is 0.039 sq in, less than the
    # tolerance times half the length round the triangle (0.054), more than that of the tip itself (0.007).
    tip = [1 + 2j, 3.3 + 3j, 1 + 4j]
    data = ground.template("tip", tip, tip)
    halves = [ground.cut(3.5, 3.5, ground.whole_piece("G")) for _ in range(2)]
    cloths = {"linen": [ground.strip(6.5, *halves)], "rose": [ground.cut_by(data, "T")]}
    sides = [ground.run((0, 0), (1, 0)), ground.run((1, 1)), ground.run((1, 2), (0, 2)), ground.run((0, 3))]
    steps = ground.joined(0, 1, ground.run((0, 1)), ground.run((1, 3)), ground.even((0, 0), (1, 0)), ground.even((0, 2), (1, 2)), 3)
    steps += [ground.laid_sheet(3, *sides), ground.down(2, 0, by=0, on=3), ground.finish(3, *sides)]
    making = ground.make("top", [ground.part(0, "G"), ground.part(1, "G"), ground.part(2, "T")], steps)
    recipe = ground.pattern(cloths, {"G": "linen", "T": "rose"}, [making], templates=[data])
    recipe["cutting"]["guides"] = [ground.guide(ground.GROUND, (tip, (), ()))]
    drawn = ground.picture(6, 6, *[("linen", ground.box(x, 0, 3, 6)) for x in (0, 3)])
    drawn["laid"] = ground.picture(6, 6, ("rose", [(z.real, z.imag) for z in tip]))["faces"]
    answer = verdict((recipe, drawn))
    assert answer["proved"], answer
    assert answer["largest_difference"] < 1e-6

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

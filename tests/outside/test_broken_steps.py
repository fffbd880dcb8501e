"""Recipes with stops, turns, closings and cuttings-up, spoilt in every place: refused in words, never a crash."""

import copy
import json

import makers
import makers_cards
import makers_curved
import makers_cut
import makers_dots
import makers_ground
import makers_paper
import makers_turned
import pytest
from makers import n
from replay import Picture, judge
from test_replay import nodes, numbers

MAKERS = [
    makers_turned.windmill,
    makers_turned.attic,
    makers_cut.strip_set,
    makers_cut.round_pairs,
    makers_cut.eight_pairs,
    makers_cut.four_geese,
]
PRINTED = [
    makers_dots.half_rectangles,
    makers_curved.half_circle,
    makers_paper.three,
    makers_cards.four_squares,
    makers_ground.posy,
    makers_ground.hills,
]


def changed(recipe, path, instead):
    broken = copy.deepcopy(recipe)
    place = broken
    for key in path[:-1]:
        place = place[key]
    if instead == "gone":
        del place[path[-1]]
    else:
        place[path[-1]] = instead
    return broken


@pytest.mark.parametrize("maker", MAKERS + PRINTED)
def test_no_broken_step_crashes_the_judge(tmp_path, maker):
    recipe, drawn = maker()
    file, picture = tmp_path / "recipe.json", Picture(drawn)
    for make, making in enumerate(recipe["recipe"]["makes"]):
        for path in nodes(making["steps"], ("recipe", "makes", make, "steps")):
            for instead in (None, -1, 3, "x", [], "gone"):
                file.write_text(json.dumps(changed(recipe, path, instead)))
                answer = judge(file, picture)
                assert answer["proved"] or (answer["why"] and "Traceback" not in answer["why"]), (path, instead)


@pytest.mark.parametrize("maker", PRINTED)
def test_no_broken_print_crashes_the_judge(tmp_path, maker):
    recipe, drawn = maker()
    file, picture = tmp_path / "recipe.json", Picture(drawn)
    for what in ("templates", "papers", "cards", "guides"):
        for path in nodes(recipe["cutting"].get(what, []), ("cutting", what)):
            if what not in recipe["cutting"]:
                continue
            for instead in (None, -1, 3, "x", [], "gone"):
                file.write_text(json.dumps(changed(recipe, path, instead)))
                answer = judge(file, picture)
                assert answer["proved"] or (answer["why"] and "Traceback" not in answer["why"]), (path, instead)


FREE = {  # what is the maker's choice, and may be a sixteenth off without another piece or a wrong seam
    makers_dots.half_rectangles: lambda path: path[-1] in ("a_by", "b_by"),
    makers_curved.half_circle: lambda path: False,
    makers_paper.three: lambda path: path[-1] in ("beyond", "margin") or "cloths" in path,
    makers_cards.four_squares: lambda path: path[-1] in ("least", "most") or "cloths" in path,
    makers_ground.posy: lambda path: False,
    makers_ground.hills: lambda path: False,
}


@pytest.mark.parametrize("maker", PRINTED)
def test_any_printed_size_a_sixteenth_off_is_refused(tmp_path, maker):
    recipe, drawn = maker()
    file, picture = tmp_path / "recipe.json", Picture(drawn)
    free, tried = FREE[maker], 0
    for part in ("recipe", "cutting"):
        for path in numbers(recipe[part]):
            templates = recipe["cutting"]["templates"] and part == "cutting"
            if free(path) or templates and path[-1] in ("lower", "upper", "height"):
                continue  # cloth round a template may be larger
            for off in (n(1 / 16)["len"] + 40, -n(1 / 16)["len"] - 40):
                mutant = copy.deepcopy(recipe)
                place = mutant[part]
                for key in path:
                    place = place[key]
                place["len"] += off
                for cloth in mutant["bought"]["cloths"]:
                    cloth["length"]["len"] += n(1)["len"]
                file.write_text(json.dumps(mutant))
                assert not judge(file, picture)["proved"], (part, path, off)
                tried += 1
    assert tried


@pytest.mark.parametrize("maker", PRINTED)
def test_any_printed_place_a_sixteenth_off_is_refused(tmp_path, maker):
    recipe, drawn = maker()
    file, picture = tmp_path / "recipe.json", Picture(drawn)
    for what in ("papers", "cards", "guides"):
        for path in nodes(recipe["cutting"].get(what, []), ("cutting", what)):
            if path[-1] not in ("right", "up"):
                continue
            place = recipe
            for key in path:
                place = place[key]
            for off in (8128000 // 16 + 40, -8128000 // 16 - 40):
                file.write_text(json.dumps(changed(recipe, path, place + off)))
                assert not judge(file, picture)["proved"], (path, off)


@pytest.mark.parametrize("maker", MAKERS)
def test_any_length_a_sixteenth_off_is_refused(tmp_path, maker):
    recipe, drawn = maker()
    file, picture = tmp_path / "recipe.json", Picture(drawn)
    for part in ("recipe", "cutting"):
        for path in numbers(recipe[part]):
            if path[-1] == "at" and path[-2] in ("from", "to"):
                continue  # where a seam stops that is begun only is the maker's choice
            if maker is makers_cut.strip_set and ("first" in path or "cutting" == part and "cuts" in path):
                continue  # so is how much is squared off a strip set, and its strips may be longer
            if maker is makers_cut.eight_pairs and path[:4] == ("makes", 0, "steps", 4):
                continue  # of the second diagonal's stitches nothing is left on the quarter that is used
            if maker is makers_cut.eight_pairs and part == "cutting" and path[1] == 1 and path[-1] == "height":
                continue  # the upper square is level with the lower at the lower edge, and only a lower quarter is used
            for off in (n(1 / 16)["len"] + 40, -n(1 / 16)["len"] - 40):
                mutant = copy.deepcopy(recipe)
                place = mutant[part]
                for key in path:
                    place = place[key]
                place["len"] += off
                for cloth in mutant["bought"]["cloths"]:
                    cloth["length"]["len"] += n(1)["len"]
                file.write_text(json.dumps(mutant))
                assert not judge(file, picture)["proved"], (part, path, off)


def test_a_seam_is_spun_only_where_joints_meet(tmp_path):
    def proved(maker, make, press, step=None):
        recipe, drawn = maker()
        file = tmp_path / "recipe.json"
        opened = [each["open"] for each in recipe["recipe"]["makes"][make]["steps"] if "open" in each]
        (opened[0] if step is None else step(recipe))["press"] = press
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))["proved"]

    for press in ("spun-lower", "spun-upper"):
        assert proved(makers.four_patch, 1, press)
        assert not proved(makers.four_patch, 0, press)  # nothing meets there
        assert not proved(makers_cut.round_pairs, 0, press)  # cut apart
        assert not proved(makers_turned.windmill, 0, press, lambda recipe: recipe["recipe"]["makes"][0]["steps"][-2]["close"])
    assert not proved(makers.four_patch, 1, "spun")

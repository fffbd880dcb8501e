"""Recipes with stops, turns, closings and cuttings-up, spoilt in every place: refused in words, never a crash."""

import copy
import json

import makers
import makers_cut
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


@pytest.mark.parametrize("maker", MAKERS)
def test_no_broken_step_crashes_the_judge(tmp_path, maker):
    recipe, drawn = maker()
    file, picture = tmp_path / "recipe.json", Picture(drawn)
    for make, making in enumerate(recipe["recipe"]["makes"]):
        for path in nodes(making["steps"], ("recipe", "makes", make, "steps")):
            for instead in (None, -1, 3, "x", [], "gone"):
                file.write_text(json.dumps(changed(recipe, path, instead)))
                answer = judge(file, picture)
                assert answer["proved"] or (answer["why"] and "Traceback" not in answer["why"]), (path, instead)


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

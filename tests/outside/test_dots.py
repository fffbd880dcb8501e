"""Two pieces laid dot on dot: recipes made by hand, right and wrong."""

import json

import makers_dots
import pytest
from makers import edge, even, n, run
from makers_turned import sewn
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


def test_half_rectangles(verdict):
    answer = verdict(*makers_dots.half_rectangles())
    assert answer["proved"], answer
    assert answer["seams"] == 2 and answer["largest_difference"] < 1e-3
    # Derived: a seam beside the cut both rectangles lie to 2.8125 in from its middle.
    assert verdict(*makers_dots.half_rectangles(out=2.8125 + 1 / 128))["proved"]
    refused(verdict(*makers_dots.half_rectangles(out=2.8125 + 1 / 32)), "step 7 (sew)", "from dot to dot")
    # Dots two seams apart are too near.
    assert verdict(*makers_dots.half_rectangles(out=0.2501 + 1 / 64))["proved"]
    refused(verdict(*makers_dots.half_rectangles(out=0.2499)), "step 6 (lay)", "two seams")
    # A dot a thirty-second along the edge is 1/32 * 4/5 out along the diagonal.
    refused(verdict(*makers_dots.half_rectangles(past=1 / 32)), "step 6 (lay)", "0.025")
    refused(verdict(*makers_dots.half_rectangles(wide=4.8 + 1 / 16)))
    refused(verdict(*makers_dots.half_rectangles(high=3.9 - 1 / 16)))
    refused(verdict(*makers_dots.half_rectangles(by=0.3125)))


def test_a_stack_laid_dot_on_dot_is_only_sewn_on_marks(verdict):
    def changed(change):
        recipe, drawn = makers_dots.half_rectangles()
        change(recipe["recipe"]["makes"][0]["steps"])
        return verdict(recipe, drawn)

    def in_round(steps):
        steps[6]["sew"]["path"] = {"round": {"edges": [edge(0, side) for side in range(4)], "by": n(0.25)}}

    def beside(steps):
        steps[6] = sewn(2)

    def turned(steps):
        steps[5]["lay"]["how"]["two-dots"]["b"].reverse()

    def crossed(steps):
        steps[5]["lay"]["how"]["two-dots"]["a"] = ["m1", "r2"]

    def even_edges(steps):
        # Without the dots the rectangles lie one on the other, the second's diagonal falls: nothing of it holds.
        how = {"a": run((0, 0)), "b": run((1, 0)), "first": even((0, 3), (1, 1)), "last": even((0, 1), (1, 3))}
        steps[5]["lay"]["how"] = {"edges": how}

    refused(changed(in_round), "step 7 (sew)", "on marks only")
    refused(changed(beside), "step 7 (sew)")
    refused(changed(crossed), "step 6 (lay)")
    refused(changed(even_edges))
    refused(changed(turned))  # the edges named lie at the other ends


def test_nothing_is_laid_on_dots_on_dots(verdict):
    recipe, drawn = makers_dots.half_rectangles()
    make = recipe["recipe"]["makes"][0]
    make["parts"].append({"slot": 9, "take": {"piece": "R"}})
    how = {"a": run((0, 0)), "b": run((9, 0)), "first": even((0, 3), (9, 1)), "last": even((0, 1), (9, 3))}
    on_it = {"lay": {"a": 2, "b": 9, "how": {"edges": how}, "into": 12}}
    recipe["cutting"]["cloths"][1]["strips"][0]["runs"][0]["times"] = 2
    make["steps"].insert(6, on_it)
    refused(verdict(recipe, drawn), "step 7 (lay)", "dot on dot")
    make["steps"][5], make["steps"][6] = on_it, make["steps"][5]
    on_it["lay"]["a"], on_it["lay"]["into"] = 0, 2
    make["steps"][6]["lay"].update(a=2, into=12)
    refused(verdict(recipe, drawn), "step 7 (lay)", "dot on dot")

"""Sewn cloth cut up again: strip sets into lengths, stacks apart; recipes made by hand, right and wrong."""

import json

import makers_cut as cut_up
import pytest
from makers import corner, edge, n, run
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

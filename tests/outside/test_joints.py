"""How joints are counted whichever way the ends are laid, and which lengths may be less than nothing."""

import json

import pytest
from makers import U, box, corner, cut, edge, even, finish, joined, make, n, part, pattern, picture, run, strip, whole_piece
from replay import Picture, judge


def rows(first, last, meets=()):
    """Two squares and, right of them, a strip that lies wholly in the allowances; two squares above. Finishes 4 in."""
    square = [cut(2.5, 2.5, whole_piece(kind)) for kind in "DDLL"]
    cloths = {"dark": [strip(2.5, *square[:2])], "light": [strip(2.5, *square[2:]), strip(2.5, cut(0.5, 0.5, whole_piece("A")))]}
    steps = []
    for work, a, b, into in ((0, 0, 1, 10), (10, 1, 2, 11), (3, 3, 4, 12)):
        steps += joined(work, b, run((a, 1)), run((b, 3)), even((a, 0), (b, 0)), even((a, 2), (b, 2)), into)
    steps += joined(11, 12, run((2, 2), (1, 2), (0, 2)), run((3, 0), (4, 0)), first, last, 13, meets)
    steps.append(finish(13, run((0, 0), (1, 0), (2, 0)), run((2, 1), (4, 1)), run((4, 2), (3, 2)), run((3, 3), (0, 3))))
    parts = [part(slot, kind) for slot, kind in enumerate("DLALD")]
    recipe = pattern(cloths, {"D": "dark", "L": "light", "A": "light"}, [make("top", parts, steps)])
    faces = [(("dark", "light")[i ^ j], box(2 * i, 2 * j, 2, 2)) for i in (0, 1) for j in (0, 1)]
    return recipe, picture(4, 4, *faces)


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe_and_picture, *first):
        recipe, drawn = recipe_and_picture
        recipe["recipe"]["makes"][0]["steps"][:0] = first
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


START, END, ON_JOINT = even((2, 1), (4, 1)), even((0, 3), (3, 3)), {"match": {"a": 0, "b": 0}}


@pytest.mark.parametrize(
    "first, last",
    [(START, END), ("centre", "centre"), (START, "centre"), ("centre", END), (ON_JOINT, END), (ON_JOINT, "centre"), (START, ON_JOINT)],
)
def test_what_only_the_allowance_shows_is_no_stretch(verdict, first, last):
    # From right to left: the strip, a square, a square. The strip shows in the last 1/4 in alone, so the only joint is 0.
    answer = verdict(rows(first, last, [(0, 0)]))
    assert answer["proved"], answer
    answer = verdict(rows(first, last, [(1, 0)]))
    assert not answer["proved"] and "joint 1" in answer["why"]


def overhang(by):
    return {"overhang": {"a": edge(0, 3), "b": edge(3, 3), "by": n(by)}}


@pytest.mark.parametrize("by, good", [(0, True), (-1 / 70, True), (1 / 70, True), (-1 / 32, False)])
def test_an_overhang_may_be_less_than_nothing(verdict, by, good):
    assert verdict(rows(START, overhang(by)))["proved"] == good


@pytest.mark.parametrize("at", [0.5, 0])
def test_no_other_length_is_less_than_nothing(verdict, at):
    def ruled(by):
        line = {"beside": {"line": {"edge": edge(0, 0)}, "at": {"len": by}, "toward": corner((0, 2), (0, 3))}}
        return {"mark": {"on": 0, "name": "line", "line": line}}

    def wide(by):
        return {"check": {"of": 0, "what": {"across": [run((0, 0)), run((0, 2))]}, "is": n(by)}}

    good = rows(START, END)
    assert verdict(good, ruled(round(at * U)), wide(2.5))["proved"]
    for step in (ruled(-round(at * U) - 1), wide(-2.5)):
        answer = verdict(rows(START, END), step)
        assert not answer["proved"] and "less than nothing" in answer["why"], answer

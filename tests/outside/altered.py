"""The recipes made by hand and thousands of alterations of them, for the other judge.

    python altered.py FOLDER
    cargo run --release -p trials --example table -- FOLDER/NAME      writes what the table says of them
    python agree.py FOLDER/NAME                                       whether the two judges agree

Every size is made a little and a lot larger and smaller, every printed place moved, every number counted one up and one
down, every list shortened, doubled and put in another order. The same files every time.
"""

import copy
import json
import random
import sys
from pathlib import Path as File

import makers_cards
import makers_curved
import makers_dots
import makers_ground
import makers_paper

MAKERS = {
    "dots": [makers_dots.half_rectangles],
    "curve": [makers_curved.half_circle, lambda: makers_curved.half_circle(over=True)],
    "fan": [lambda: makers_curved.half_circle(fan=True), lambda: makers_curved.half_circle(fan=True, over=True)],
    "paper": [makers_paper.three],
    "cards": [makers_cards.four_squares, lambda: makers_cards.four_squares(unit=True)],
    "posy": [makers_ground.posy, lambda: makers_ground.posy(from_back=True)],
    "raw": [lambda: makers_ground.posy(raw=True)],
    "hills": [makers_ground.hills],
}
SIZES = (4, -4, 60, -60, 120, -120, 134, -134, 548, -548)  # 1/8128 in: the tolerance is 127
PLACES = tuple(1000 * size for size in SIZES[2:])
COUNTED = {
    "edge", "side", "shape", "line", "count", "uses", "cut", "print", "times", "from", "to", "a", "b", "on", "of", "stack",
    "piece", "spare", "up",
}  # fmt: skip


def nodes(value, path=()):
    """Every place in a file, with what is there."""
    yield path, value
    if isinstance(value, (dict, list)):
        for key, inner in list(value.items()) if isinstance(value, dict) else list(enumerate(value)):
            yield from nodes(inner, path + (key,))


def changed(recipe, path, change):
    """The recipe with one thing in it changed by `change(holder, key)`."""
    other = copy.deepcopy(recipe)
    holder = other
    for key in path[:-1]:
        holder = holder[key]
    change(holder, path[-1])
    return other


def moved(by):
    def move(holder, key):
        holder[key] += by

    return move


def put(value):
    def change(holder, key):
        holder[key] = value

    return change


def alterations(recipe, numbers):
    """The recipe as it is, then every alteration."""
    yield recipe
    for path, value in nodes(recipe):
        if not path or path[0] in ("bought", "whys"):
            continue
        whole = isinstance(value, int) and not isinstance(value, bool)
        if whole and path[-1] == "len":
            yield from (changed(recipe, path, moved(by)) for by in SIZES)
        elif whole and path[-1] in ("right", "up") and path[0] == "cutting":
            yield from (changed(recipe, path, moved(by)) for by in numbers.sample(PLACES, 3))
        elif whole and path[-1] in COUNTED and value < 1000:
            yield from (changed(recipe, path, moved(by)) for by in (1, -1) if value + by >= 0)
        elif isinstance(value, list) and len(value) > 1:
            at = numbers.randrange(len(value) - 1)
            for other in (
                [*value[:at], value[at + 1], value[at], *value[at + 2 :]],
                value[:at] + value[at + 1 :],
                [*value[:at], value[at], *value[at:]],
            ):
                yield changed(recipe, path, put(other))


def write(folder):
    """One folder for each family; answers how many recipes there are in each."""
    written = {}
    for name, makers in MAKERS.items():
        numbers, count = random.Random(name), 0
        into = File(folder) / name
        into.mkdir(parents=True, exist_ok=True)
        for maker in makers:
            recipe, drawn = maker()
            for face in drawn["faces"] + drawn.get("laid", []):
                face["patch"] = {"placements": [0], "patch": 0}
            (into / "picture.json").write_text(json.dumps(drawn), encoding="utf-8")
            for cloth in recipe["bought"]["cloths"]:
                cloth["length"]["len"] += 3 * 8128  # enough, so that what is wrong with a larger piece is told by the sewing
            for altered in alterations(recipe, numbers):
                (into / f"recipe-{count:05}.json").write_text(json.dumps(altered), encoding="utf-8")
                count += 1
        written[name] = count
    return written


if __name__ == "__main__":
    print(json.dumps(write(sys.argv[1])))

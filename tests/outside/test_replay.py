"""The second judge's own tests: small recipes made by hand, right and wrong; sources of values beside the checks."""

import copy
import json
import time

import makers
import pytest
from cuts import Cutter
from makers import n
from plane import Refused
from replay import Picture, judge, main


@pytest.fixture
def verdict(tmp_path):
    def run(recipe_and_picture):
        recipe, drawn = recipe_and_picture
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return run


def proved(answer):
    assert answer["proved"], answer
    return answer


def refused(answer, *words):
    assert not answer["proved"]
    for word in words:
        assert word in answer["where"] + " " + answer["why"], answer
    return answer


def test_four_patch(verdict):
    answer = proved(verdict(makers.four_patch()))
    assert answer["seams"] == 3  # two pairs and the top
    assert answer["largest_difference"] < 1e-6


def test_a_square_a_sixteenth_too_large_is_refused(verdict):
    refused(verdict(makers.four_patch(red=2.5625)), "unit pair, step 1 (lay)", "0.0625")
    refused(verdict(makers.four_patch(red=2.4375)), "unit pair, step 1 (lay)")


def test_both_squares_a_sixteenth_wrong_are_refused_by_the_picture(verdict):
    refused(verdict(makers.four_patch(red=2.5625, blue=2.5625)), "top", "outline")


def test_half_square_pair_opens_too_large_without_its_trim(verdict):
    # Derived: the cut leg less s * sqrt 2: 2.875 - 0.3536 = 2.5214, 0.0214 more than 2 1/2; its corner 0.0214 * sqrt 2 off.
    proved(verdict(makers.half_square()))
    refused(verdict(makers.half_square(trim=False)), "outline", "0.0303")


def test_a_wrong_shave_is_refused(verdict):
    refused(verdict(makers.half_square(size=2.875 + 1 / 16)), "trim", "takes 0.0839")
    refused(verdict(makers.half_square(size=2.875 - 1 / 16)), "trim")
    proved(verdict(makers.half_square(size=3.0, shave=3.0 - 0.25 * 2**0.5 - 2.5)))


def test_what_comes_off_is_told_once_of_each_edge(verdict):
    recipe, drawn = makers.half_square()
    steps = [each for make in recipe["recipe"]["makes"] for each in make["steps"]]
    off = next(each["trim"] for each in steps if "trim" in each)["lines"][0]["off"]
    off.append(copy.deepcopy(off[0]))
    refused(verdict((recipe, drawn)), "trim", "twice")


def test_goose_keeps_the_rectangles_size(verdict):
    # Common practice: sewn and flipped, the rectangle's own 2 1/2 by 4 1/2 in stays.
    proved(verdict(makers.goose()))
    refused(verdict(makers.goose(square=2.4375)), "unit top")
    refused(verdict(makers.goose(width=4.5625)), "check")


def test_slanted_pair_with_notches(verdict):
    # Derived: the overhang where the end runs straight on is 2 s cot: 2 * 1/4 * 1/2 = 1/4 in at a 2:1 slope.
    answer = proved(verdict(makers.slant_pair(about=0.25)))
    assert answer["overhangs"] == [0.25]
    refused(verdict(makers.slant_pair(about=0.5)), "lay", "0.2500")
    refused(verdict(makers.slant_pair(lower=4.8125, upper=3.5625)), "trim")


def test_square_in_square_by_middles(verdict):
    proved(verdict(makers.square_in_square()))
    refused(verdict(makers.square_in_square(square=8**0.5 + 0.5 + 1 / 16)), "top", "outline")
    refused(verdict(makers.square_in_square(legs=2.8536 + 1 / 16)))


def test_square_in_square_by_overhangs_and_dots(verdict):
    # Derived: s |cot(45/2) - cot(90/2)| = s sqrt 2, a triangle's tip on a square.
    proved(verdict(makers.square_in_square(by="overhang")))
    refused(verdict(makers.square_in_square(by="overhang", overhang=0.25)), "lay")
    proved(verdict(makers.square_in_square(by="dots")))
    refused(verdict(makers.square_in_square(by="dots", legs=2.8536 + 1 / 16)), "lay", "last end")
    proved(verdict(makers.square_in_square(snip=True)))


def test_hourglass_with_its_joint(verdict):
    proved(verdict(makers.hourglass()))
    refused(verdict(makers.hourglass(meet=(0, 1))), "joint 1", "the edge has 1")
    # Common practice: n + 1 1/4, 0.0429 over; without a trim the block comes out that much too large.
    refused(verdict(makers.hourglass(square=5.25)), "top", "outline")


def test_joined_lengths_are_one_face(verdict):
    proved(verdict(makers.joined_strip()))
    refused(verdict(makers.joined_strip(join=False)), "top")


def test_cloth_short(verdict):
    recipe, drawn = makers.four_patch()
    recipe["bought"]["cloths"][0]["length"] = n(3.4)
    refused(verdict((recipe, drawn)), "cloth red", "3.5000")


def test_cuts_past_the_usable_width(verdict):
    recipe, drawn = makers.four_patch()
    recipe["cutting"]["cloths"][0]["usable"] = n(4.9)
    refused(verdict((recipe, drawn)), "usable width")


def test_piece_left_over(verdict):
    refused(verdict(makers.four_patch(red_count=3)), "piece R", "1 left over")
    proved(verdict(makers.four_patch(red_count=3, red_spare=1)))
    refused(verdict(makers.four_patch(red_count=1)), "unit pair", "more of piece R")


def test_unit_left_over(verdict):
    recipe, drawn = makers.half_square()
    recipe["recipe"]["makes"][0]["spare"] = 0
    refused(verdict((recipe, drawn)), "unit pair", "left over")


def test_print_with_an_up(verdict):
    for turn, up, two_way, good in (
        ("as", (0, 1), False, True),
        ("as", (0, -1), False, False),
        ("half", (0, -1), False, True),
        ("as", (0, -1), True, True),
        ("quarter", (0, 1), True, False),
    ):
        recipe, drawn = makers.four_patch(prints={"red": "one-way"}, turn=turn)
        # The pairs lie head to head, so only the lower left square keeps the up it was cut with.
        drawn["faces"][0]["up"] = {"toward": {"x": up[0], "y": up[1]}, "two_way": two_way}
        assert verdict((recipe, drawn))["proved"] == good, (turn, up, two_way)


def test_wrong_cloth_in_the_picture(verdict):
    recipe, drawn = makers.four_patch()
    drawn["faces"][0]["fabric"] = "blue"
    refused(verdict((recipe, drawn)), "picture has blue")


def test_seam_of_another_width(verdict):
    recipe, drawn = makers.four_patch()
    recipe["recipe"]["makes"][0]["steps"][1]["sew"]["path"]["beside"]["by"] = n(0.375)
    refused(verdict((recipe, drawn)), "step 2 (sew)")


def cutter(*strips, templates=()):
    return Cutter(makers.pattern({"cloth": list(strips)}, {"A": "cloth", "B": "cloth"}, [], templates=templates))


def test_edges_of_cut_pieces():
    # A slanted piece turned by half is the same as its neighbour lying head to tail.
    slant = [makers.cut(4.75, 3.5, makers.whole_piece("A")), makers.cut(3.5, 4.75, makers.whole_piece("A", "half"))]
    assert cutter(makers.strip(2.5, *slant)).kinds["A"][1] == 2
    mirrored = [makers.cut(4.75, 3.5, makers.whole_piece("A")), makers.cut(3.5, 4.75, makers.whole_piece("A"))]
    with pytest.raises(Refused, match="not all pieces A are alike"):
        cutter(makers.strip(2.5, *mirrored))
    # Half of a square cut beside dots: edges 0 and 1 stay, 2 and 3 go, the cut is 4.
    dots = {
        "from": {"from_left": n(3), "from_lower": n(3)},
        "to": {"from_left": n(0), "from_lower": n(0)},
        "past": n(0),
    }
    shaped = makers.cut(3, 3, {"shaped": {"piece": {"piece": "A"}, "cuts": [dots]}})
    piece = cutter(makers.strip(3, shaped)).kinds["A"][0]
    assert [sorted(names) for names in piece.names] == [[0], [1], [4]]
    assert piece.area() == pytest.approx(4.5)
    # A template must fit the cloth cut for it, and be convex.
    triangle = {
        "name": "t",
        "corners": [{"right": n(x)["len"] * 1000, "up": n(y)["len"] * 1000} for x, y in ((0, 0), (3, 0), (0, 2))],
    }
    taken = {"template": {"piece": {"piece": "A"}, "template": "t"}}
    assert cutter(makers.strip(2, makers.cut(3, 3, taken)), templates=[triangle]).kinds["A"][0].area() == pytest.approx(
        3
    )
    with pytest.raises(Refused, match="does not fit"):
        cutter(makers.strip(2, makers.cut(2.9, 2.9, taken)), templates=[triangle])
    # A thousandth of a length beyond the cloth is too much; a place on a print is a whole number.
    triangle["corners"][1]["right"] += 1
    with pytest.raises(Refused, match="does not fit"):
        cutter(makers.strip(2, makers.cut(3, 3, taken)), templates=[triangle])
    triangle["corners"][1]["right"] -= 1.0
    with pytest.raises(Refused, match="whole number"):
        cutter(makers.strip(2, makers.cut(3, 3, taken)), templates=[triangle])
    triangle["corners"][1]["right"] = int(triangle["corners"][1]["right"])
    triangle["corners"].reverse()
    with pytest.raises(Refused, match="not convex"):
        cutter(makers.strip(2, makers.cut(3, 3, taken)), templates=[triangle])


def test_narrower_strips_from_the_rest():
    square = makers.cut(2, 2, makers.whole_piece("B"))
    long = makers.cut(36, 36, makers.whole_piece("A"))
    kinds = cutter(makers.strip(4.5, long, rest=[makers.strip(2, square, square, times=2)])).kinds
    assert kinds["B"][1] == 4
    with pytest.raises(Refused, match="higher than the strip"):
        cutter(makers.strip(4.5, long, rest=[makers.strip(2, square, times=3)]))
    with pytest.raises(Refused, match="past the usable width"):
        cutter(makers.strip(4.5, long, rest=[makers.strip(2, square, square, square)]))


def nodes(value, path=()):
    """Every place in a file."""
    yield path
    if isinstance(value, (dict, list)):
        for key, inner in list(value.items()) if isinstance(value, dict) else list(enumerate(value)):
            yield from nodes(inner, path + (key,))


@pytest.mark.parametrize("maker", [makers.four_patch, makers.goose, makers.slant_pair, makers.half_square])
def test_no_broken_file_crashes_the_judge(verdict, maker):
    recipe, drawn = maker()
    for path in list(nodes(recipe))[1:]:
        for instead in (None, -1, 10**30, "x", [], {"x": 1}, "gone"):
            broken = copy.deepcopy(recipe)
            place = broken
            for key in path[:-1]:
                place = place[key]
            if instead == "gone":
                del place[path[-1]]
            else:
                place[path[-1]] = instead
            answer = verdict((broken, drawn))
            assert answer["proved"] or answer["why"], (path, instead)


def test_unknown_and_unrehearsed_are_refused_not_crashed(verdict):
    for step in (
        {"embroider": {"of": 2}},
        {"close": {"work": 2, "seam": {"of": 2, "seam": 0}}},
        {"sub-cut": {"of": 2, "lines": [], "into": []}},
        {"sew": {"stack": 102, "path": {"on-paper": "x"}}},
        {"sew": {"stack": 2}},
        {"open": {"stack": "x", "press": "open", "into": 9}},
        "nothing",
        17,
    ):
        recipe, drawn = makers.four_patch()
        recipe["recipe"]["makes"][0]["steps"].append(step)
        refused(verdict((recipe, drawn)), "unit pair")
    for broken in ({}, [], {"format": 1}, {"format": 2}, 3):
        refused(verdict((broken, drawn)))


def numbers(value, path=()):
    """Every printed length of a recipe, as a path to it."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key not in ("bound", "usable", "square_up", "whys"):
                yield from numbers(inner, path + (key,))
        if "len" in value:
            yield path
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from numbers(inner, path + (i,))


@pytest.mark.parametrize("maker", [makers.four_patch, makers.goose, makers.half_square, makers.slant_pair])
def test_any_length_of_the_sewing_or_cutting_a_sixteenth_off_is_refused(verdict, maker):
    recipe, drawn = maker()
    for part in ("recipe", "cutting"):
        for path in numbers(recipe[part]):
            for off in (n(1 / 16)["len"] + 40, -n(1 / 16)["len"] - 40):
                mutant = copy.deepcopy(recipe)
                place = mutant[part]
                for key in path:
                    place = place[key]
                place["len"] += off
                for cloth in mutant["bought"]["cloths"]:
                    cloth["length"]["len"] += n(1)["len"]
                assert not verdict((mutant, drawn))["proved"], (part, path, off)


def test_many_patches_are_quick(verdict):
    recipe, drawn = makers.patchwork(16)
    start = time.process_time()
    answer = proved(verdict((recipe, drawn)))
    assert answer["seams"] == 512 + 256 + 16 * 15 + 15
    assert time.process_time() - start < 5


def test_command_line(tmp_path, capsys):
    recipe, drawn = makers.four_patch()
    (tmp_path / "picture.json").write_text(json.dumps(drawn))
    (tmp_path / "recipe.json").write_text(json.dumps(recipe))
    mutants = tmp_path / "mutants"
    mutants.mkdir()
    (mutants / "one.json").write_text(json.dumps(makers.four_patch(red=2.5625)[0]))
    arguments = [str(tmp_path / "recipe.json"), str(tmp_path / "picture.json")]
    assert main(arguments) == 0
    assert main([*arguments, "--mutants", str(mutants)]) == 1
    (tmp_path / "list.txt").write_text(f"{tmp_path / 'recipe.json'}\n{mutants / 'one.json'}\n")
    assert main(["--many", str(tmp_path / "list.txt"), arguments[1]]) == 1
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [line["proved"] for line in lines] == [True, True, False, True, False]
    assert set(lines[0]) == {"file", "proved", "where", "why", "seams", "overhangs", "largest_difference"}

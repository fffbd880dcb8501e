"""Tests of the outlines' own judge: mitred allowances that fit, and such that do not."""

import json

import makers
import makers_cards
import makers_curved
import makers_dots
import makers_ground
import makers_paper
import pytest
from allowance import alike, area, fits, grown, judge, main

MAKERS = [
    (makers.four_patch, {"whole"}),
    (makers.half_square, {"whole"}),  # each square holds the whole grown triangle
    (makers.goose, {"by area"}),  # sewn and flipped: no piece has the mitred tips
    (makers.slant_pair, {"whole"}),
    (makers.square_in_square, {"whole"}),
    (makers.joined_strip, {"whole", "joined"}),
    (makers_dots.half_rectangles, {"by area"}),
    (makers_curved.half_circle, {"whole"}),
    (makers_paper.three, {"whole"}),
    (makers_cards.four_squares, {"whole"}),
    (lambda: makers_cards.four_squares(size=2.4375), {"whole"}),  # an eighth less: 3/16 in folded over
    (makers_ground.posy, {"whole", "laid"}),
    (lambda: makers_ground.posy(from_back=True), {"whole", "laid"}),
    (makers_ground.hills, {"whole", "laid"}),
]


@pytest.mark.parametrize(("maker", "ways"), MAKERS)
def test_pieces_hold_their_faces(maker, ways):
    lines = list(judge(*maker()))
    assert all(line["holds"] for line in lines), lines
    assert {line["way"] for line in lines[:-1]} == ways


def test_a_piece_too_small_does_not_hold_its_face():
    assert not all(line["holds"] for line in judge(*makers.four_patch(red=2.46)))
    # To 1/64 in on each side, so 1/32 in across.
    assert all(line["holds"] for line in judge(*makers.four_patch(red=2.5 - 1 / 64)))
    assert not all(line["holds"] for line in judge(*makers.square_in_square(legs=2.75)))


def test_a_bowed_piece_or_a_laid_one_too_small_does_not_hold_its_face():
    small = makers_curved.half_circle(makers_curved.pie(radius=3 - 1 / 16))
    assert [line.get("way") for line in judge(*small)][:2] == ["whole", "none"]
    large = makers_curved.half_circle(hollow_data=makers_curved.hollow(radius=3 + 1 / 16))
    assert [line.get("way") for line in judge(*large)][:2] == ["none", "whole"]
    assert not all(line["holds"] for line in judge(*makers_cards.four_squares(size=2.375 - 1 / 16)))
    recipe, drawn = makers_ground.posy()
    drawn["laid"][0]["outline"][0]["x"] -= 1 / 8
    assert not all(line["holds"] for line in judge(recipe, drawn))
    # A leaf printed for the front, where its mirror image is wanted.
    recipe, drawn = makers_ground.posy()
    for corner in drawn["laid"][0]["outline"]:
        corner["x"] = 6 - corner["x"]
    drawn["laid"][0]["outline"].reverse()
    drawn["laid"][0]["outline"][0]["x"] += 1 / 8
    assert not all(line["holds"] for line in judge(recipe, drawn))


def test_turned_but_never_turned_over():
    # A right triangle with legs 1 and 2 does not fit into its own mirror image, and does into itself turned.
    triangle = [0j, 2 + 0j, 1j]
    mirror = [-2 + 0j, 0j, 1j]
    turned = [corner * (0.6 + 0.8j) + 5 for corner in triangle]
    assert fits(turned, triangle)
    assert not fits(mirror, triangle)
    assert alike(turned) == alike(triangle) != alike(mirror)


def test_mitred_corners():
    # Derived: a right triangle with equal legs n grows to legs n + s (2 + sqrt 2): 2 -> 2.853553 at s = 1/4.
    assert area(grown([0j, 2 + 0j, 2j], 0.25)) == pytest.approx(2.8535533906**2 / 2, abs=1e-6)


def test_faces_that_do_not_fill_the_outline():
    recipe, drawn = makers.four_patch()
    drawn["faces"].pop()
    assert not list(judge(recipe, drawn))[-1]["holds"]


def test_command_line(tmp_path, capsys):
    for name, what in zip(("recipe.json", "picture.json"), makers.four_patch()):
        (tmp_path / name).write_text(json.dumps(what))
    assert main([str(tmp_path / "recipe.json"), str(tmp_path / "picture.json")]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 3

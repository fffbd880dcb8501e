"""The second judge on cloth sold cut: made by hand from a four patch, right and wrong."""

import copy

import makers
import pytest
from makers import n
from test_replay import proved, refused, verdict  # noqa: F401 (a fixture)


def in_pieces(count=1, length=18.0, each=18.0, bought=1, square_up=0.5):
    """The four patch with its red squares cut from fat quarters, 18 by 21 in: one square from each of `count` alike pieces."""
    recipe, drawn = makers.four_patch()
    cloth = recipe["cutting"]["cloths"][0]
    run = cloth["strips"][0]["runs"]
    run[:] = [{"times": 2 // count, "cuts": run[0]["cuts"][:1]}]
    cloth.update(usable=n(21), square_up=n(square_up), alike={"count": count, "length": n(length)})
    have = recipe["bought"]["cloths"][0]
    have.update(usable=n(21), length=n(each * bought))
    have["pieces"] = {"form": "fat-quarter", "count": bought, "least": 1, "each": n(each)}
    return recipe, drawn


def test_one_piece_and_several_alike(verdict):  # noqa: F811
    proved(verdict(in_pieces()))
    # What is cut from each of two counts twice.
    proved(verdict(in_pieces(count=2, bought=2)))
    proved(verdict(in_pieces(bought=3)))


def test_more_pieces_cut_than_bought(verdict):  # noqa: F811
    refused(verdict(in_pieces(count=2, bought=1)), "cloth red", "2 pieces are cut, 1 bought")


def test_strips_do_not_go_on_from_one_piece_to_the_next(verdict):  # noqa: F811
    # Derived: 2 1/2 in and 1/2 in squared up are 3 in; a piece of 2 7/8 in is too short however many there are.
    proved(verdict(in_pieces(length=3.0)))
    refused(verdict(in_pieces(length=2.875, bought=5)), "cloth red", "of a piece")


def test_a_piece_longer_than_it_is_sold(verdict):  # noqa: F811
    refused(verdict(in_pieces(length=18.0, each=9.0, bought=4)), "cloth red", "sold")


@pytest.mark.parametrize("left_out", ["alike", "pieces"])
def test_cut_in_pieces_and_bought_by_the_yard(verdict, left_out):  # noqa: F811
    recipe, drawn = copy.deepcopy(in_pieces())
    place = recipe["cutting"] if left_out == "alike" else recipe["bought"]
    del place["cloths"][0][left_out]
    refused(verdict((recipe, drawn)), "cloth red", "in pieces")

"""Mosaics over card: recipes made by hand, right and with one fact broken; counts in closed form beside the checks."""

import json

import makers_cards as over_card
import pytest
from cards import Card, Stock
from makers import corner, edge, even, n, run
from makers_cards import SQUARE, card, four_squares
from plane import Refused
from replay import Picture, judge


@pytest.fixture
def verdict(tmp_path):
    def judged(recipe_and_picture):
        recipe, drawn = recipe_and_picture
        file = tmp_path / "recipe.json"
        file.write_text(json.dumps(recipe))
        return judge(file, Picture(drawn))

    return judged


def refused(answer, *words):
    assert not answer["proved"]
    for word in words:
        assert word in answer["where"] + " " + answer["why"], answer


def changed(change, make=0, **how):
    recipe, drawn = four_squares(**how)
    change(recipe["recipe"]["makes"][make]["steps"])
    return recipe, drawn


@pytest.mark.parametrize("unit", [False, True])
@pytest.mark.parametrize("laid", [False, True])
def test_four_squares(verdict, unit, laid):
    answer = verdict(four_squares(unit=unit, laid=laid))
    assert answer["proved"], answer
    assert answer["largest_difference"] < 1e-6 and answer["seams"] == 3


def test_how_much_is_folded_over(verdict):
    # The flat sides lie a seam inside two edges; the other two fold over size - 2 1/4 in.
    assert verdict(four_squares(size=2.625))["proved"]
    assert verdict(four_squares(size=2.625 + 1 / 65))["proved"]
    refused(verdict(four_squares(size=2.625 + 1 / 60)), "step 1 (baste)", "at most 0.3750")
    assert verdict(four_squares(size=2.4375 - 1 / 65))["proved"]
    refused(verdict(four_squares(size=2.4375 - 1 / 60)), "step 1 (baste)", "short of 0.1875")
    # In the middle of the cloth it lies a seam inside only where the cloth is just so large.
    refused(verdict(four_squares(size=2.5 + 1 / 16, laid=False)), "step 1 (baste)", "not a seam")
    for least, most in ((1 / 70, 0.375), (0.3, 0.29)):
        refused(verdict(four_squares(least=least, most=most)), "step 1 (baste)", "reach over the card")
    refused(verdict(four_squares(least=-0.25)), "step 1 (baste)", "less than nothing")


def test_where_a_card_lies(verdict):
    def off(number, by):
        return lambda steps: steps[0]["baste"]["inside"][number].update(by=n(by))

    for number in (0, 1):
        assert verdict(changed(off(number, 0.25 + 1 / 65)))["proved"]
        refused(verdict(changed(off(number, 0.25 + 1 / 60))), "step 1 (baste)", "not a seam")
    # By one side the other way is in the middle, here a sixteenth too far in.
    one = lambda steps: steps[0]["baste"].update(inside=steps[0]["baste"]["inside"][:1])  # noqa: E731
    assert verdict(changed(one))["proved"]
    refused(verdict(changed(one, size=2.625)), "step 1 (baste)", "0.3125", "not a seam")
    for inside, word in (
        ([(0, 0, 0.25), (2, 2, 0.25)], "side by side"),
        ([(0, 0, 0.25), (3, 3, 0.25), (1, 1, 0.25)], "two of its sides"),
        ([(4, 0, 0.25)], "no side 4"),
    ):
        refused(verdict(four_squares(inside=inside)), "step 1 (baste)", word)
    # The card turned by a quarter: its flat sides no longer lie at the edges named for them.
    refused(verdict(changed(lambda steps: steps[0]["baste"].update(side=1))), "step 1 (baste)")
    refused(verdict(four_squares(flat=(3, 0))), "step 1 (baste)", "not a seam")
    refused(verdict(four_squares(flat=(0,))), "step 1 (baste)", "2 sides of the card are flat, 1")
    refused(verdict(four_squares(flat=(0, 0))), "step 1 (baste)")
    refused(verdict(changed(lambda steps: steps[0]["baste"].update(card="none"))), "step 1 (baste)", "no card none")
    snipped = {"snip": {"of": 1, "along": [edge(1, 0)]}}
    refused(verdict(changed(lambda steps: steps.insert(0, snipped))), "as it was cut")


def test_whipped_edges_meet_corner_on_corner(verdict):
    def pairs(number, one, other):
        return lambda steps: steps[number]["whip"].update(edges=[{"a": run(*one), "b": run(*other)}])

    # A seam of two edges in one run, or of two pairs that follow one another.
    two = [{"a": run((12, 1)), "b": run((13, 2))}, {"a": run((11, 2)), "b": run((14, 1))}]
    assert verdict(changed(lambda steps: steps[6]["whip"].update(edges=two)))["proved"]
    refused(verdict(changed(lambda steps: steps[6]["whip"].update(edges=two[::-1]))), "step 7 (whip)", "does not begin")
    refused(verdict(changed(lambda steps: steps[6]["whip"].update(edges=two[:1]))), "step 8 (take-out)")
    refused(verdict(changed(lambda steps: steps[6]["whip"].update(edges=two + two[:1]))), "step 7 (whip)")
    refused(verdict(changed(lambda steps: steps[6]["whip"].update(edges=[]))), "step 7 (whip)", "no edges")
    refused(verdict(changed(pairs(6, ((11, 2), (12, 1)), ((14, 1), (13, 2))))), "step 7 (whip)", "broken")
    refused(verdict(changed(pairs(6, ((12, 1),), ((14, 1), (13, 2))))), "step 7 (whip)", "1.0000")
    # Raw edges are not whipped, nor an edge twice; a folded edge is named for nothing else.
    refused(verdict(changed(pairs(4, ((11, 0),), ((12, 3),)))), "step 5 (whip)", "not folded")
    refused(verdict(changed(pairs(6, ((11, 1),), ((13, 1),)))), "step 7 (whip)")
    refused(verdict(changed(lambda steps: steps[4]["whip"].update(b=11))), "step 5 (whip)")
    for step, word in (
        ({"check": {"of": 11, "what": {"across": [run((11, 1)), run((11, 3))]}, "is": n(2.25)}}, "folded"),
        ({"mark": {"on": 11, "name": "m", "line": {"beside": {"line": {"edge": edge(11, 0)}, "at": n(1),
                   "toward": corner((11, 0), (11, 3))}}}}, "a card is in"),
        ({"dot": {"on": 11, "name": "m", "at": {"corner": corner((11, 3), (11, 0))}}}, "a card is in"),
        ({"snip": {"of": 11, "along": [edge(11, 0)]}}, "a card is in"),
        ({"trim": {"of": 11, "lines": [], "into": 50}}, "a card is in"),
        ({"sub-cut": {"of": 11, "first": {}, "toward": {}, "width": n(1), "into": [50]}}, "a card is in"),
        ({"close": {"work": 11}}, "a card is in"),
        ({"finish": {"top": 11, "sides": [], "up": 0, "seam": n(0.25)}}, "a card is in"),
        ({"lay": {"a": 11, "b": 12, "how": {"edges": {"a": run((11, 0)), "b": run((12, 3)), "first": even((11, 3), (12, 0)),
                  "last": "centre"}}, "into": 50}}, "a card is in"),
    ):  # fmt: skip
        refused(verdict(changed(lambda steps: steps.insert(4, step))), "step 5", word)
    # Raw edges can be measured while the card is in: a piece is 2 1/2 in, less what is folded.
    for measure, good in ((2.25, True), (2.25 + 1 / 32, False)):
        across = {"between": [{"corner": corner((11, 3), (11, 0))}, {"corner": corner((11, 3), (11, 0))}]}
        check = {"check": {"of": 11, "what": across, "is": n(measure - 2.25)}}
        assert verdict(changed(lambda steps: steps.insert(4, check)))["proved"] == good


def test_sides_of_different_lengths_do_not_meet(verdict):
    recipe, drawn = four_squares()
    wide = card("wide", [z.real * 17 / 16 + 1j * z.imag for z in SQUARE], 1, 1, flat=(0, 3))
    recipe["cutting"]["cards"].append(wide)
    recipe["cutting"]["cards"][0].update(uses=3, cut=3)
    recipe["recipe"]["makes"][0]["steps"][1]["baste"].update(card="wide", least=n(0.125))
    out = [{"card": "corner", "count": 3}, {"card": "wide", "count": 1}]
    recipe["recipe"]["makes"][0]["steps"][7]["take-out"]["cards"] = out
    refused(verdict((recipe, drawn)), "step 5 (whip)", "0.0625")


def test_taking_out(verdict):
    for cards in (
        [], [{"card": "corner", "count": 3}], [{"card": "other", "count": 4}],
        [{"card": "corner", "count": 4}, {"card": "other", "count": 0}], [{"card": "corner", "count": 4}] * 2,
    ):  # fmt: skip
        refused(verdict(changed(lambda steps: steps[7]["take-out"].update(cards=cards))), "step 8 (take-out)")
    refused(verdict(changed(lambda steps: steps.pop(7))), "step 8 (finish)", "a card is in")
    refused(verdict(changed(lambda steps: steps.insert(6, over_card.out(21, corner=1)))), "step 7 (take-out)", "no cards")
    refused(verdict(changed(lambda steps: steps.insert(8, over_card.out(23, corner=4)))), "step 9 (take-out)", "no cards")


def test_a_unit_with_cards_is_given_alone(verdict):
    recipe, drawn = four_squares(unit=True)
    gives = recipe["recipe"]["makes"][0]["gives"]
    gives.append(gives[0])
    refused(verdict((recipe, drawn)), "unit pair", "given alone")
    recipe, drawn = four_squares(unit=True)
    sides = recipe["recipe"]["makes"][0]["gives"][0]["sides"]
    sides[:2] = [sides[0] + sides[1]]
    refused(verdict((recipe, drawn)), "unit pair")
    recipe, drawn = four_squares(unit=True)
    sides = recipe["recipe"]["makes"][0]["gives"][0]["sides"]
    sides[1:3] = [sides[1] + sides[2]]
    refused(verdict((recipe, drawn)), "unit pair")


def test_how_many_cards(verdict):
    for how in ({"uses": 5}, {"uses": 3}, {"needed": 3}, {"needed": 5}, {"unit": True, "needed": 2}):
        refused(verdict(four_squares(**how)), "card corner")
    assert verdict(four_squares(unit=True, uses=4, needed=4))["proved"]


def counted(*makings):
    """(uses, most at one time, left) of one card; makings: (times, moves)."""
    stock = Stock([card("c", SQUARE, 0, 0)])
    for times, moves in makings:
        stock.made([("c", move) for move in moves], times)
    return stock.uses["c"], stock.most["c"], stock.here["c"]


def slowly(*makings):
    here = most = uses = 0
    for times, moves in makings:
        for _ in range(times):
            for move in moves:
                here += move
                most, uses = max(most, here), uses + (move > 0)
    return uses, most, here


@pytest.mark.parametrize("makings", [
    [(1, [1, 1, 1, -3])], [(4, [1, 1, -1]), (2, [-2])], [(3, [1, -1])], [(5, [1, 1]), (5, [1, -2]), (5, [-1])],
    [(2, [1]), (3, [1, 1, -2, 1, -1]), (1, [-2])], [(7, [1]), (7, [-1]), (3, [1, 1]), (1, [-6])],
])  # fmt: skip
def test_counts_in_closed_form(makings):
    assert counted(*makings) == slowly(*makings)


def test_what_a_card_must_be():
    Card(card("c", SQUARE, 1, 1, flat=(0, 2)))
    for corners, flat in (
        (SQUARE[:2], ()), (SQUARE[::-1], ()), ([0j, 2 + 0j, 2j, 2 + 2j], ()), ([0j, 2 + 0j, 2 + 1j / 70, 2j], ()),
        (SQUARE, (0, 0)), (SQUARE, (1, 0)), (SQUARE, (4,)), (SQUARE, (-1,)), (SQUARE, (0, 1, 2, 3)), (SQUARE, (True,)),
    ):  # fmt: skip
        with pytest.raises(Refused):
            Card(card("c", corners, 1, 1, flat=flat))
    with pytest.raises(Refused, match="one name"):
        Stock([card("c", SQUARE, 0, 0)] * 2)

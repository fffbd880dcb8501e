"""Bowed edges and curve on curve: recipes made by hand, right and wrong; closed forms beside the checks."""

import cmath
import json
import math

import makers_curved as curved
import pytest
from curves import Curve
from hollow import Hollow, once_round
from makers import edge, even, n, run
from makers_curved import half_circle, hollow, pie, ray
from plane import BOW, Line, Refused
from replay import Picture, judge
from work import Run, Work


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


def steps_of(recipe, unit):
    return next(make for make in recipe["recipe"]["makes"] if make["unit"] == unit)["steps"]


@pytest.mark.parametrize("fan", [False, True])
@pytest.mark.parametrize("over", [False, True])
def test_a_half_circle(verdict, fan, over):
    answer = verdict(half_circle(fan=fan, over=over))
    assert answer["proved"], answer
    assert answer["largest_difference"] < 1e-6
    assert answer["seams"] == (5 if fan else 3)


def test_pins(verdict):
    assert verdict(half_circle(pins=((0, 2), (2, 0))))["proved"]
    refused(verdict(half_circle(pins=((0, 2),))), "unit square, step 1 (lay)", "two marks")
    refused(verdict(half_circle(pins=((0, 0), (1, 1), (2, 2)))), "step 1 (lay)", "follow one another")
    refused(verdict(half_circle(pins=((2, 0), (1, 1), (0, 2)))), "step 1 (lay)", "follow one another")
    refused(verdict(half_circle(pins=((0, 2), (3, 0)))), "step 1 (lay)", "the curve has 3")
    # Derived: 45 degrees of a 3 in circle, in straights of 7.5: six chords of 6 sin 3.75 degrees, 2.3545 in.
    refused(verdict(half_circle(pins=((0, 2), (1, 0)))), "step 1 (lay)", "2.3545")


def test_a_bowed_edge_at_the_end_of_a_seam(verdict):
    # Of a bowed edge before a run its last straight counts, of one after it the first: the wedges' outer corners are even.
    for first, good in ((even((0, 1), (1, 1)), True), (even((0, 1), (1, 2)), False), (even((0, 0), (1, 1)), False)):
        recipe, drawn = half_circle(fan=True)
        steps_of(recipe, "fan")[0]["lay"]["how"]["edges"]["first"] = first
        assert verdict((recipe, drawn))["proved"] == good, first
    # Corners of a bowed and a straight edge, 3 1/4 in from corner to corner of the quarter, less what the straights run past.
    for number in (0, 1):
        recipe, drawn = half_circle()
        corners = [{"corner": {"before": edge(1, i), "after": edge(1, (i + 1) % 3)}} for i in (number, 2)]
        wedge = pie()["corners"]
        one, other = (complex(wedge[i]["right"], wedge[i]["up"]) / 8128000 for i in (number + 1, 0))
        for off, good in ((0, True), (1 / 32, False)):
            check = {"check": {"of": 1, "what": {"between": corners}, "is": n(abs(one - other) + off)}}
            again = json.loads(json.dumps(recipe))
            steps_of(again, "square").insert(0, check)
            assert verdict((again, drawn))["proved"] == good
    # A dot inside a bowed edge and a straight one lies where the finished corner is: on the printed mark.
    for by, good in ((0.25, True), (0.25 + 1 / 16, False)):
        recipe, drawn = half_circle()
        at = {"from-edges": {"a": edge(1, 0), "a_by": n(0.25), "b": edge(1, 1), "b_by": n(by)}}
        middle = {"from-edges": {"a": edge(1, 2), "a_by": n(0.25), "b": edge(1, 0), "b_by": n(0.25)}}
        check = {"check": {"of": 1, "what": {"between": [at, middle]}, "is": n(3.0)}}
        steps_of(recipe, "square").insert(0, check)
        assert verdict((recipe, drawn))["proved"] == good


def test_printed_marks(verdict):
    # A mark half a degree off lies 0.0262 in off along the curve; a quarter of a degree, 0.0131, is within 1/64.
    assert verdict(half_circle(pie(marks=(0, 45.25, 90))))["proved"]
    refused(verdict(half_circle(pie(marks=(0, 45.5, 90)))), "step 1 (lay)", "0.026")
    # A mark a thirty-second off the stitches is none of theirs; one less than 1/16 in beyond another is the same dot.
    off = pie()
    off["marks"][1] = curved.place(ray(3 + 1 / 32, 45))
    refused(verdict(half_circle(off)), "step 1 (lay)")
    assert verdict(half_circle(pie(marks=(0, 45, 46, 90))))["proved"]
    refused(verdict(half_circle(pie(marks=(0, 45, 46.5, 90)))), "step 1 (lay)")
    # Marks travel with the pieces of a unit: a fan's two wedges have one each at their seam, counted once.
    refused(verdict(half_circle(pie(steps=6, angle=45.0, marks=(0, 43)), fan=True)), "step 1 (lay)")


def test_the_two_stitch_lines_must_be_one(verdict):
    # A flatter hollow of as long a chain: one radius differs by a sixteenth.
    refused(verdict(half_circle(hollow_data=hollow(radius=3 + 1 / 16))), "step 1 (lay)")
    # Both the same wrong radius: only the picture tells.
    wrong = half_circle(pie(radius=3 + 1 / 16), hollow(radius=3 + 1 / 16))
    refused(verdict(wrong), "top", "differs from the picture")
    dented = pie()
    through = dented["bows"][0]["through"]
    through[5] = curved.place(ray(3.25, 45) * (1 - 0.04 / 3.25))
    refused(verdict(half_circle(dented)), "step 1 (lay)")


def test_a_curve_turns_little_by_little(verdict):
    # Nine straights to a quarter turn by ten degrees each, eight by eleven and a quarter.
    for count, good in ((9, True), (8, False)):
        maker = half_circle(pie(steps=count, marks=(0, 90)), hollow(steps=count, marks=(90, 0)), ((0, 1), (1, 0)), steps=count)
        answer = verdict(maker)
        assert answer["proved"] == good, answer
    assert "11.3 degrees" in answer["why"]


def test_a_curve_is_sewn_once_beside_its_edges(verdict):
    def changed(change, unit="square"):
        recipe, drawn = half_circle()
        change(steps_of(recipe, unit))
        return verdict((recipe, drawn))

    refused(changed(lambda steps: steps[1]["sew"]["path"]["beside"].update(by=n(0.3125))), "step 2 (sew)", "the seam is")
    for end in ("from", "to"):
        for stop in ("dot", {"at": n(2)}):
            refused(changed(lambda steps: steps[1]["sew"]["path"]["beside"].update({end: stop})), "step 2 (sew)", "raw end")
    refused(changed(lambda steps: steps.insert(2, steps[1])), "step 3 (sew)", "once")
    round_it = {"round": {"edges": [edge(0, 1)], "by": n(0.25)}}
    refused(changed(lambda steps: steps[1]["sew"].update(path=round_it)), "step 2 (sew)")
    refused(changed(lambda steps: steps.pop(1)), "step 2 (open)")
    # No line, no ruler, no measure: whatever asks for the line of a bowed edge is refused.
    bow = {"a": run((0, 4)), "b": run((1, 1)), "first": "centre", "last": "centre"}
    refused(changed(lambda steps: steps[0]["lay"].update(how={"edges": bow})), "step 1 (lay)", "no line")
    across = {"check": {"of": 1, "what": {"across": [run((1, 1)), run((1, 0))]}, "is": n(3)}}
    refused(changed(lambda steps: steps.insert(0, across)), "step 1 (check)", "no line")
    draw = {"mark": {"on": 1, "name": "m", "line": {"beside": {"line": {"edge": edge(1, 1)}, "at": n(0),
                     "toward": {"before": edge(1, 2), "after": edge(1, 0)}}}}}  # fmt: skip
    refused(changed(lambda steps: steps.insert(0, draw)), "step 1 (mark)", "bowed")
    straight = {"curve": {"a": run((0, 3)), "b": run((1, 2)), "pins": [{"a": 0, "b": 1}, {"a": 1, "b": 0}]}}
    refused(changed(lambda steps: steps[0]["lay"].update(how=straight)), "step 1 (lay)", "no curve")
    seam = {"mark": {"on": 3, "name": "m", "line": {"beside": {"line": {"seam": {"of": 3, "seam": 0}}, "at": n(0),
                     "toward": {"before": edge(0, 0), "after": edge(0, 1)}}}}}  # fmt: skip
    refused(changed(lambda steps: steps.append(seam)), "step 4 (mark)", "seam 0 of slot 3")
    refused(changed(lambda steps: steps[-1]["finish"].update(sides=[run((1, 0))] * 4), "top"))


def test_any_length_or_place_a_sixteenth_off_is_refused(verdict):
    for template, corners in ((0, 3), (1, 5)):
        for number in range(corners):
            for axis in ("right", "up"):
                recipe, drawn = half_circle()
                data = recipe["cutting"]["templates"][template]
                data["corners"][number][axis] += round(1.4 / 16 * 8128 * 1000)
                wide, high = curved.box_of(data)
                for cloth in recipe["cutting"]["cloths"]:
                    cut = cloth["strips"][0]["runs"][0]["cuts"]
                    if cut[0]["gives"]["template"]["template"] == data["name"]:
                        cloth["strips"][0]["height"] = n(high + 0.01)
                        for each in cut:
                            each["lower"] = each["upper"] = n(wide + 0.01)
                refused(verdict((recipe, drawn)))


def test_outlines_go_once_round():
    square = [0j, 2 + 0j, 2 + 2j, 2j]
    assert once_round(square) and not once_round(square[::-1])
    assert not once_round([0j, 2 + 2j, 2 + 0j, 2j])
    assert not once_round([0j, 4 + 0j, 4 + 2j, 2 + 0j, 2j])  # it touches itself


def test_templates_with_bows(verdict):
    for change in (
        lambda data: data["bows"].append(dict(data["bows"][0])),  # twice
        lambda data: data["bows"][0].update(through=[]),
        lambda data: data["bows"][0].update(edge=3),
        lambda data: data["bows"][0]["through"].reverse(),
        lambda data: data["marks"].append({"right": 0.5, "up": 0}),
    ):
        data = pie()
        change(data)
        refused(verdict(half_circle(data)))
    # Pieces of one kind have like marks.
    recipe, drawn = half_circle()
    other = pie(marks=(0, 90))
    other["name"] = "other"
    recipe["cutting"]["templates"].append(other)
    cuts = recipe["cutting"]["cloths"][0]["strips"][0]["runs"][0]["cuts"]
    cuts[1] = json.loads(json.dumps(cuts[1]).replace('"pie"', '"other"'))
    refused(verdict((recipe, drawn)), "marks differ")


def chain_of(corners, seam, names=None):
    names = names or [frozenset([(0, 0), BOW])] * (len(corners) - 1) + [frozenset()]
    patch = Hollow("p", "p", "cloth", 1j, corners, names, 0)
    work = Work([patch], {}, {}, {(0, 0): {"p"}})
    return Curve(Run(work, [edge(0, 0)]).curve(), seam)


def test_a_chain_along_a_circle():
    # Derived: straights of an n-gon's side lie at R cos(d / 2); moved in by s, their corners at R - s / cos(d / 2).
    step = 5
    corners = [ray(4, step * i) for i in range(19)] + [0j]
    names = [frozenset([(0, 0), BOW])] * 18 + [frozenset(), frozenset()]
    curve = chain_of(corners, 0.25, names)
    inner = 4 - 0.25 / math.cos(math.radians(step / 2))
    for i in range(1, 18):
        assert abs(curve.corners[i] - ray(inner, step * i)) < 1e-9
    # The inner straights are sides of the inner polygon; the first and the last only half so much shorter.
    whole, half = 2 * inner * math.sin(math.radians(2.5)), 0.25 * math.tan(math.radians(2.5))
    assert curve.alongs[-1] == pytest.approx(18 * whole + 2 * half)
    assert curve.nearest(ray(inner, 45), 1)[0] < 1e-9


def test_a_curve_too_tight_for_its_seam():
    # A circle of 1/4 in has nothing left to stitch along a 3/8 in seam: its straights would run back by more than 1/64.
    corners = [ray(0.25, 10 * i) for i in range(10)] + [0j]
    names = [frozenset([(0, 0), BOW])] * 9 + [frozenset(), frozenset()]
    chain_of(corners, 0.2, names)
    with pytest.raises(Refused, match="too tight"):
        chain_of(corners, 0.375, names)


def horseshoe():
    corners = [0j, 6 + 0j, 6 + 4j, 4 + 4j, 4 + 2j, 2 + 2j, 2 + 4j, 4j]
    return Hollow("h", "h", "cloth", 1j, corners, [frozenset([(0, i)]) for i in range(8)], 0)


@pytest.mark.parametrize("over", [False, True])
def test_a_hollow_piece_and_a_line(over):
    piece = horseshoe()
    line = Line(3j, 1 + 0j)
    side = 1
    if over:
        motion = (1 + 0j, 0j, True)
        piece, line, side = piece.carried(motion), line.carried(motion), -1
    assert [at for stretch in piece.stretches(line) for at in stretch[:2]] == pytest.approx([0, 2, 4, 6])
    # The lesser reach is the arm's, an inch.
    assert [stretch[2] for stretch in piece.stretches(line)] == pytest.approx([1, 1])
    assert piece.chord(line)[:2] == pytest.approx((0, 6))
    low = piece.kept(line, -side)
    assert low.area() == pytest.approx(20 - 4) and len(low.corners) == 8
    with pytest.raises(Refused, match="in 2 parts"):
        piece.kept(line, side)
    assert [part.area() for part in piece.parts(line, side)] == pytest.approx([2, 2])
    # Of the two arms only the one that has edge 2 goes.
    left = piece.without(line, -side, "cut", lambda edges, places: 2 in edges)
    assert len(left) == 1 and left[0].area() == pytest.approx(18)
    assert frozenset(["cut"]) in left[0].names
    # A line along an edge has no cloth on its one side.
    level = Line(2j, 1 + 0j) if not over else Line(-2j, 1 + 0j)
    assert [at for stretch in piece.stretches(level) for at in stretch[:2]] == pytest.approx([0, 2, 4, 6])
    assert piece.stretches(Line(0j, 1 + 0j)) == []
    assert abs(piece.middle() - (3 + (-1 if over else 1) * 1.8j)) < 1e-9
    assert cmath.isfinite(piece.middle()) and piece.width() == pytest.approx(4)

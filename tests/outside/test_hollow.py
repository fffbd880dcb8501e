"""Cutting pieces that need not be convex, held against the geometry library: shapes from a fixed row of numbers."""

import math
import random

import pytest
import shapely
from hollow import Hollow
from makers_curved import ray
from plane import Line, Refused

FAR = 50.0


def star(numbers, count):
    """A simple outline about the middle, in and out at random."""
    return [ray(numbers.uniform(0.5, 4), 360 * (i + numbers.uniform(0.1, 0.9)) / count) for i in range(count)]


def polygon(corners):
    return shapely.Polygon([(c.real, c.imag) for c in corners])


def half_plane(line, side):
    ends = [line.place(-FAR), line.place(FAR), line.place(FAR, side * FAR), line.place(-FAR, side * FAR)]
    return polygon(ends)


@pytest.mark.parametrize("over", [False, True])
@pytest.mark.parametrize("seed", range(40))
def test_parts_and_stretches(seed, over):
    numbers = random.Random(seed)
    corners = star(numbers, numbers.randint(5, 24))
    piece = Hollow("p", "p", "cloth", 1j, corners, [frozenset([(0, i)]) for i in range(len(corners))], 0)
    if over:
        piece = piece.carried((1j, 0.5 + 0j, True))
    shape = polygon(piece.corners)
    line = Line(complex(numbers.uniform(-2, 2), numbers.uniform(-2, 2)), ray(1, numbers.uniform(0, 360)))
    for side in (1, -1):
        wanted = shape.intersection(half_plane(line, side))
        areas = sorted(part.area for part in getattr(wanted, "geoms", [wanted]) if part.area > 1e-6)
        parts = piece.parts(line, side)
        assert sorted(part.area() for part in parts) == pytest.approx(areas, abs=1e-6)
        for part in parts:
            assert polygon(part.corners).is_valid and part.hand == piece.hand
            # Every edge with a name lies on the edge it had its name from.
            for start, end, names in part.edges():
                for _, number in names:
                    old = shapely.LineString([(z.real, z.imag) for z in old_edge(piece, number)])
                    assert all(old.distance(shapely.Point(z.real, z.imag)) < 1e-6 for z in (start, end))
        if len(areas) > 1:
            with pytest.raises(Refused):
                piece.kept(line, side)
    on_it = shape.intersection(shapely.LineString([(z.real, z.imag) for z in (line.place(-FAR), line.place(FAR))]))
    lengths = sorted(part.length for part in getattr(on_it, "geoms", [on_it]) if part.length > 1e-6)
    assert sorted(high - low for low, high, _ in piece.stretches(line)) == pytest.approx(lengths, abs=1e-6)


def old_edge(piece, number):
    return next((start, end) for start, end, names in piece.edges() if (0, number) in names)


@pytest.mark.parametrize("seed", range(20))
def test_parts_taken_off_one_by_one(seed):
    numbers = random.Random(1000 + seed)
    corners = star(numbers, 16)
    piece = Hollow("p", "p", "cloth", 1j, corners, [frozenset([(0, i)]) for i in range(16)], 0)
    line = Line(complex(numbers.uniform(-1, 1), numbers.uniform(-1, 1)), ray(1, numbers.uniform(0, 360)))
    beyond = piece.parts(line, -1)
    for gone in range(len(beyond)):
        asked = []

        def goes(edges, places, asked=asked, gone=gone):
            asked.append(edges)
            return math.isclose(polygon_of(places), beyond[gone].area(), rel_tol=1e-6)

        left = piece.without(line, +1, "cut", goes)
        assert len(asked) == len(beyond)
        assert sum(part.area() for part in left) == pytest.approx(piece.area() - beyond[gone].area(), abs=1e-6)


def polygon_of(places):
    return shapely.Polygon([(z.real, z.imag) for z in places]).area if len(places) > 2 else 0.0

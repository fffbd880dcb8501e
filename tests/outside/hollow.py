"""Pieces that need not be convex: cut round a template with bowed edges, or with printed marks.

A line may cross such a piece several times, and a cut may leave it in parts; all else is as for any patch.
"""

from functools import cached_property

import shapely

from plane import BREATH, Patch, Refused, narrowest


class Hollow(Patch):
    """A piece of cloth once round, hollow perhaps."""

    @cached_property
    def hand(self):
        """+1 when the corners go round counter-clockwise, -1 when the piece lies turned over."""
        corners = self.corners
        return 1 if sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(len(corners))) >= 0 else -1

    def middle(self):
        """The middle of its cloth."""
        centre = shapely.Polygon([(c.real, c.imag) for c in self.corners]).centroid
        return complex(centre.x, centre.y)

    def width(self):
        hull = shapely.Polygon([(c.real, c.imag) for c in self.corners]).convex_hull
        return narrowest([complex(*place) for place in hull.exterior.coords[:-1]])

    def stretches(self, line):
        """Every (from, to, depth) of a line inside the cloth; the depth is the lesser reach to either side of that stretch."""
        lefts = [line.left(corner) for corner in self.corners]
        if min(-min(lefts), max(lefts)) < BREATH:
            return []
        # Cloth to both sides of the line, not on the one only.
        found = [
            (max(low, other_low), min(high, other_high), min(depth, other_depth))
            for low, high, depth in self.borders(line, lefts, +1)
            for other_low, other_high, other_depth in self.borders(line, lefts, -1)
        ]
        return sorted(stretch for stretch in found if stretch[1] - stretch[0] > BREATH)

    def borders(self, line, lefts, side):
        """The stretches along a line of the parts beyond it, and how far these reach."""
        found = []
        for part in self.joined(self.beyond(line, [side * left for left in lefts], side)):
            depth = max(abs(line.left(place)) for chain in part for place in chain.places)
            for chain in part:
                ends = line.along(chain.places[0]), line.along(chain.meets.places[-1])
                found.append((min(ends), max(ends), depth))
        return found

    def chord(self, line):
        """From the first to the last place of all its stretches."""
        found = self.stretches(line)
        return (found[0][0], found[-1][1], found[0][2]) if found else None

    def kept(self, line, side, name=None):
        parts = self.without(line, side, name)
        if len(parts) > 1:
            raise Refused(f"piece {self.label} would be left in {len(parts)} parts")
        return parts[0] if parts else None

    def parts(self, line, side):
        return self.without(line, side)

    def without(self, line, side, name=None, goes=None):
        """What is left when the parts on the other side of a line are gone, of those only where `goes` says so.

        `goes` is asked of each part, by the numbers of the edges that it has a stretch of and by its corners.
        """
        lefts = [side * line.left(corner) for corner in self.corners]
        if min(lefts) >= -BREATH:
            return [self]
        chains = self.beyond(line, lefts, side)
        if not chains:
            return []
        gone = []
        for part in self.joined(chains):
            edges = {i for chain in part for i in chain.edges}
            places = [place for chain in part for place in chain.places]
            if goes is None or goes(edges, places):
                gone += part
        if not gone:
            return [self]
        return self.loops(gone, frozenset() if name is None else frozenset([name]))

    def beyond(self, line, lefts, side):
        """The stretches of the outline that lie beyond a line, in order round; none when all of it does."""
        count = len(lefts)
        inside = [left >= -BREATH for left in lefts]
        starts = [i for i in range(count) if inside[i] and not inside[(i + 1) % count]]
        chains = []
        for i in starts:
            edges = [i]
            j = (i + 1) % count
            while not inside[j]:
                edges.append(j)
                j = (j + 1) % count
            crossings = []
            for edge in (edges[0], edges[-1]):
                a, b = lefts[edge], lefts[(edge + 1) % count]
                here, there = self.corners[edge], self.corners[(edge + 1) % count]
                crossings.append(here + (there - here) * min(1.0, max(0.0, a / (a - b))))
            corners = [self.corners[edge] for edge in edges[1:]]
            alongs = [side * self.hand * line.along(place) for place in crossings]
            chains.append(Chain(edges, [crossings[0], *corners, crossings[1]], *alongs))
        return chains

    def joined(self, chains):
        """The parts beyond the line, each the chains that go round it. Along the line cloth begins where one chain starts
        and ends where one ends, in turns."""
        starts = sorted(range(len(chains)), key=lambda i: chains[i].start)
        ends = sorted(range(len(chains)), key=lambda i: chains[i].end)
        follows = {end: start for start, end in zip(starts, ends)}
        for start, end in zip(starts, ends):
            chains[start].meets = chains[end]
        left, parts = set(follows), []
        while left:
            part, here = [], min(left)
            while here in left:
                left.discard(here)
                part.append(chains[here])
                here = follows[here]
            parts.append(part)
        return parts

    def loops(self, gone, fresh):
        """The outlines that are left once these chains are off: along the line from where one starts to its fellow's end."""
        count = len(self.corners)
        by_edge = {chain.edges[0]: chain for chain in gone}
        todo, loops = list(gone), []
        while todo:
            first = chain = todo[0]
            corners, names = [], []
            while True:
                todo.remove(chain)
                back_at = chain.meets  # the cut ends where this one comes back
                corners += [chain.places[0], back_at.places[-1]]
                last = back_at.edges[-1]
                names += [fresh, self.names[last]]
                i = (last + 1) % count
                while i not in by_edge:
                    corners.append(self.corners[i])
                    names.append(self.names[i])
                    i = (i + 1) % count
                corners.append(self.corners[i])
                names.append(self.names[i])
                chain = by_edge[i]
                if chain is first:
                    break
            loop = once(self.like(corners, names))
            if loop is not None:
                loops.append(loop)
        return loops


class Chain:
    """A stretch of an outline beyond a line: its edges, its places with the two crossings, where these lie along the line."""

    def __init__(self, edges, places, start, end):
        self.edges, self.places, self.start, self.end = edges, places, start, end
        self.meets = None


def once(patch):
    """Without corners that fall on one another; None when no cloth is left."""
    corners, names = patch.corners, patch.names
    kept = [i for i in range(len(corners)) if abs(corners[(i + 1) % len(corners)] - corners[i]) > 1e-6]
    if len(kept) < 3:
        return None
    tidied = patch.like([corners[i] for i in kept], [names[i] for i in kept])
    return tidied if tidied.area() > 1e-6 else None


def simple(corners):
    """Whether an outline goes once round and nowhere crosses or touches itself."""
    return shapely.Polygon([(c.real, c.imag) for c in corners]).is_valid


def anticlockwise(corners):
    return sum((corners[i - 1].conjugate() * corners[i]).imag for i in range(len(corners))) / 2 > 1e-6


def once_round(corners):
    """Whether an outline is simple and runs with the cloth on its left."""
    apart = all(abs(corner - corners[i - 1]) > BREATH for i, corner in enumerate(corners))
    return apart and simple(corners) and anticlockwise(corners)

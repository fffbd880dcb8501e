"""Folding under what lies beyond a seam: over a piece's whole length, or, along a begun seam, over the sewn part of it.

A piece folded over part of its length is no longer convex. It lies on the table as two convex parts of one piece, that meet
in a line square to the seam; when the seam is closed the two are made one again.
"""

from hollow import Hollow
from plane import FOLD, TOLERANCE, Refused, off_boundary
from stitches import whole_pieces

INNER = ("inner",)  # the name of the line in which the two parts of a piece meet: no edge at all


def folded(patches, path, square=None):
    """A layer without what lies beyond a path; along a begun seam only what lies to the left of `square` is folded."""
    kept = []
    for parts in whole_pieces(patches):
        if path.loses is not None and parts[0].key not in path.loses:
            kept += parts
        elif isinstance(parts[0], Hollow) and path.loses is not None:
            kept += hollow_folded(parts[0], path, square)
        elif square is None:
            kept += [part.kept(path.line, path.body, FOLD) for part in parts]
        else:
            kept += folded_in_part(parts, path, square)
    kept = [part for part in kept if part is not None]
    if not kept:
        raise Refused("a whole layer is folded under")
    return kept


def hollow_folded(piece, path, square):
    """A piece that may be hollow, without those parts beyond the path that the seam takes off."""

    def goes(edges, places):
        if piece.key in path.of_run:
            return any(piece.names[i] & path.edges for i in edges)
        ends = path.line.place(path.start), path.line.place(path.end)
        return any(off_boundary(end, places) <= path.tip + TOLERANCE for end in ends)

    left = piece.without(path.line, path.body, FOLD, goes)
    if len(left) > 1:
        raise Refused(f"piece {piece.label} would be left in {len(left)} parts")
    if square is not None and left != [piece]:
        sewn = [max(square.left(c) for c in piece.corners), min(square.left(c) for c in piece.corners)]
        if sewn[0] > 0 > sewn[1]:
            raise Refused(f"piece {piece.label}, which is not convex, would be half folded along a seam begun")
        if sewn[0] <= 0:
            return [piece]
    return left


def folded_in_part(parts, path, square):
    """A piece folded beside the sewn part of a begun seam."""
    sewn = [part.kept(square, +1, INNER) for part in parts]
    if not any(part is not None and part.kept(path.line, path.body) is not part for part in sewn):
        return parts  # nothing of it lies beyond the seam there
    free = [part.kept(square, -1, INNER) for part in parts]
    if not any(free):
        return [part and part.kept(path.line, path.body, FOLD) for part in parts]
    if len(parts) > 1:
        raise Refused(f"piece {parts[0].label} would be folded over part of its length along two begun seams")
    return [sewn[0].kept(path.line, path.body, FOLD), free[0]]


def made_one(patches, keys):
    """A layer in which the pieces of a begun seam, now folded all along, are each one again."""
    one = []
    for parts in whole_pieces(patches):
        one += [united(parts)] if parts[0].key in keys else parts
    return one


def united(parts):
    """The two parts of a piece as one outline; they meet in an edge each has."""
    opened = [from_inner(part) for part in parts]
    if len(parts) == 1 or not all(opened):
        first = parts[0]
        if len(parts) > 1:
            raise Refused(f"the parts of piece {first.label} do not meet any more")
        return first.like(first.corners, [names - {INNER} | {FOLD} if INNER in names else names for names in first.names])
    (one, one_names), (other, other_names) = opened
    # The last corner of each is the first of the other.
    corners, names = one[:-1] + other[:-1], one_names + other_names
    corners, names = straightened(corners, names)
    first = parts[0]
    return first.like(corners, names)


def from_inner(part):
    """A part's corners from one end of its inner edge round to the other, and the names of the edges between them."""
    for i, names in enumerate(part.names):
        if INNER in names:
            start = i + 1
            corners = part.corners[start:] + part.corners[:start]
            return corners, (part.names[start:] + part.names[:start])[:-1]
    return None


def straightened(corners, names):
    """Without corners in the middle of a straight edge of one name."""
    count = len(corners)
    out = [
        i
        for i in range(count)
        if not (
            names[i] == names[i - 1]
            and abs(((corners[i] - corners[i - 1]).conjugate() * (corners[(i + 1) % count] - corners[i])).imag) < 1e-6
        )
    ]
    return [corners[i] for i in out], [names[i] for i in out]

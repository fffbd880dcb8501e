"""The stretch of a stitch line in one layer: what it goes through, what it catches, who loses cloth."""

from plane import BREATH, TOLERANCE, Refused, show

class Stretch:
    """The pieces of a layer that a stitch line goes through, in order along it."""

    def __init__(self, patches, line, run_keys, what):
        self.pieces, self.line, self.run_keys, self.what = whole_pieces(patches), line, run_keys, what
        self.hits = []
        for parts in self.pieces:
            self.hits += [(*found, parts[0]) for found in piece_stretches(parts, line) if found[1] - found[0] > BREATH]
        self.hits.sort(key=lambda hit: (hit[0] + hit[1], hit[0]))
        self.own = [hit for hit in self.hits if hit[3].key in run_keys]
        if not self.own:
            raise Refused(f"the stitches miss the pieces of the {what}'s edge")

    def corners(self, corners, ends, seam):
        """The finished corners; where none is known (None), a seam inside an end, but not outside the run's own pieces."""
        first, last = corners
        if first is None:
            first = max(ends[0] + seam, min(hit[0] for hit in self.own))
        if last is None:
            last = min(ends[1] - seam, max(hit[1] for hit in self.own))
        return first, last

    def joints(self, corners, seam):
        """Along the line, where one piece of the run ends and the next begins; between the finished corners."""
        first, last = self.corners(corners, self.reach(), seam)
        crossed = [hit for hit in self.own if min(hit[1], last) - max(hit[0], first) > TOLERANCE]
        return [(one[1] + other[0]) / 2 for one, other in zip(crossed, crossed[1:])]

    def reach(self):
        """How far the cloth goes on along the line to both sides of the run without a gap."""
        low, high = min(hit[0] for hit in self.own), max(hit[1] for hit in self.own)
        grown = True
        while grown:
            grown = False
            for start, end, _, _ in self.hits:
                if start < low - BREATH and end >= low - TOLERANCE:
                    low, grown = start, True
                if end > high + BREATH and start <= high + TOLERANCE:
                    high, grown = end, True
        return low, high

    def check(self, ends, corners, seam, stopped=(False, False)):
        """What the stitches need of this layer, from end to end and between the finished corners.

        At an end that is `stopped` nothing beyond it is looked at; at a dot, tips from round the corner hang free. Afterwards the pieces in `keys` lose what lies beyond
        the stitches, and `faces` lie along them.
        """
        low, high = ends
        round_the_corner = {
            parts[0].key
            for parts in self.pieces
            if parts[0].key not in self.run_keys and self.beyond(parts, ends, stopped, 4 * seam)
        }
        first, last = self.corners(corners, ends, seam)
        self.keys, self.faces = set(self.run_keys), set()
        reach = low
        for start, end, depth, patch in sorted(self.hits, key=lambda hit: hit[:2]):
            if patch.key not in self.run_keys and patch.key not in round_the_corner:
                if min(end, last) - max(start, first) > TOLERANCE and depth > TOLERANCE:
                    raise Refused(
                        f"the stitches catch piece {patch.label} of the {self.what} by {show(depth)}: it has no edge here"
                    )
                if end > low - 4 * seam and start < high + 4 * seam:
                    self.keys.add(patch.key)
                    beyond = max(low - start, end - high)
                    if beyond > 4 * seam + TOLERANCE and depth > TOLERANCE:
                        raise Refused(f"piece {patch.label} of the {self.what} goes on {show(beyond)} past the seam")
            inside = min(end, high) - max(start, low)
            if inside <= BREATH:
                continue
            if start > reach + TOLERANCE:
                raise Refused(f"{show(start - reach)} of the seam has no cloth under it in the {self.what}")
            reach = max(reach, end)
            if inside > TOLERANCE and depth > TOLERANCE:
                self.faces.add(patch.face)
        if high > reach + TOLERANCE:
            raise Refused(f"the last {show(high - reach)} of the seam have no cloth under them in the {self.what}")
        # Slivers that lie wholly in the allowance of this seam go with it.
        for parts in self.pieces:
            key = parts[0].key
            if key not in self.keys and key not in round_the_corner:
                lefts, alongs = self.reaches(parts)
                if max(lefts) <= BREATH and min(lefts) >= -seam - TOLERANCE:
                    if min(alongs) <= high + seam and max(alongs) >= low - seam:
                        self.keys.add(key)

    def reaches(self, parts):
        """How far a piece's corners lie to the left of the stitch line, and how far along it."""
        corners = [corner for part in parts for corner in part.corners]
        return [self.line.left(corner) for corner in corners], [self.line.along(corner) for corner in corners]

    def beyond(self, parts, ends, stopped, tip):
        """Whether a piece belongs to what lies beyond an end at which the stitches stop; a `tip` of it may come inside."""
        lefts, alongs = self.reaches(parts)
        chord = piece_chord(parts, self.line)
        if chord and stopped[0] in (True, "dot") and chord[0] <= ends[0] + TOLERANCE and chord[1] <= ends[0] + tip:
            return True
        if chord and stopped[1] in (True, "dot") and chord[1] >= ends[1] - TOLERANCE and chord[0] >= ends[1] - tip:
            return True
        stretch = chord or (min(alongs), max(alongs))
        flat = max(lefts) <= TOLERANCE
        if stopped[0] and (stretch[1] <= ends[0] + TOLERANCE or (flat and min(alongs) < ends[0])):
            return True
        return stopped[1] and (stretch[0] >= ends[1] - TOLERANCE or (flat and max(alongs) > ends[1]))


def whole_pieces(patches):
    """The pieces of a layer, each with its parts: two where a begun seam folds it over part of its length, else one."""
    pieces = {}
    for patch in patches:
        pieces.setdefault(patch.key, []).append(patch)
    return list(pieces.values())


def piece_chord(parts, line):
    """(from, to, depth) of a line inside a piece, over all its parts; or None."""
    if len(parts) == 1:
        return parts[0].chord(line)
    lefts = [line.left(corner) for part in parts for corner in part.corners]
    if min(lefts) > -BREATH or max(lefts) < BREATH:
        return None
    places = []
    for part in parts:
        found = part.chord(line)
        if found:
            places += found[:2]
        else:  # the line may run where the two parts meet
            level = [line.along(corner) for corner in part.corners if abs(line.left(corner)) <= 1e-6]
            places += level if len(level) > 1 else []
    return (min(places), max(places), min(-min(lefts), max(lefts))) if places else None


def piece_stretches(parts, line):
    """Every (from, to, depth) of a line inside a piece."""
    if len(parts) == 1:
        return parts[0].stretches(line)
    found = piece_chord(parts, line)
    return [found] if found else []


def on_line(patches, line):
    """The faces a line goes through."""
    chords = [(parts[0].face, piece_chord(parts, line)) for parts in whole_pieces(patches)]
    return {face for face, found in chords if found and found[1] - found[0] > TOLERANCE}


def spans(patches, line):
    """The stretches of a line that lie on cloth, merged."""
    merged = []
    for start, end in sorted(found[:2] for parts in whole_pieces(patches) for found in piece_stretches(parts, line)):
        if merged and start <= merged[-1][1] + TOLERANCE:
            merged[-1][1] = max(merged[-1][1], end)
        else:
            merged.append([start, end])
    return merged

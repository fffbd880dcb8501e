"""Curve on curve, right sides together: pinned at printed marks, sewn along both chains, opened."""

from dataclasses import dataclass

from curves import Curve
from plane import BREATH, FOLD, STAY, TOLERANCE, Line, Refused, after, inches, over_line, show, variant
from stitches import whole_pieces
from work import Run, Work, lying_flat


def number(value, count, what):
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < count:
        raise Refused(f"{what} {value!r} is named, the curve has {count}")
    return value


class Pinned:
    """A curved run of one work laid on another's."""

    kinds = ("pins", "pins")

    def __init__(self, lower, upper, making, body):
        self.works = lower.closed(), upper.closed()
        self.curves = [Curve(Run(work, body[which]).curve(), making.seam) for work, which in zip(self.works, "ab")]
        self.names = self.curves[0].run.names | self.curves[1].run.names
        marks = [curve.marks(work.patches) for curve, work in zip(self.curves, self.works)]
        pins = [tuple(number(pin[which], len(each), "mark") for which, each in zip("ab", marks)) for pin in body["pins"]]
        if len(pins) < 2:
            raise Refused("a curve is pinned at two marks at least")
        if any(b[0] <= a[0] or b[1] >= a[1] for a, b in zip(pins, pins[1:])):
            raise Refused("pins do not follow one another along both curves")
        alongs = [tuple(each[at] for each, at in zip(marks, pin)) for pin in pins]
        for (_, pin), (below, above) in zip(enumerate(pins), alongs):
            off = (below - alongs[0][0]) - (alongs[0][1] - above)
            if abs(off) > TOLERANCE:
                raise Refused(f"pin {pin[0]} lies {show(abs(off))} further along one curve than along the other")
        # Of each layer the first place of the seam along its own chain, and the last.
        self.spans = (alongs[0][0], alongs[-1][0]), (alongs[-1][1], alongs[0][1])
        (first, last), (b_first, b_last) = [
            tuple(curve.place(pin[layer]) for pin in (alongs[0], alongs[-1])) for layer, curve in enumerate(self.curves)
        ]
        if min(abs(last - first), abs(b_last - b_first)) <= TOLERANCE:
            raise Refused("the first and the last pin are one place")
        turn = (last - first) / abs(last - first) / ((b_last - b_first) / abs(b_last - b_first))
        self.opened = (turn, (first + last) / 2 - turn * (b_first + b_last) / 2, False)
        self.motion = after(over_line(Line.through(first, last)), self.opened)
        self.one_line([along for along, _ in alongs], [along for _, along in alongs])

    def one_line(self, pins_a, pins_b):
        """Opened, the two chains are one between the first pin and the last."""
        lower, upper = self.curves
        turn, shift, _ = self.opened
        back = (1 / turn, -shift / turn)
        for curve, other, pins, (low, high), (turn, shift) in (
            (lower, upper, pins_a, self.spans[0], back),
            (upper, lower, pins_b, self.spans[1], self.opened[:2]),
        ):
            places = [place for _, place in curve.between(low, high)] + [curve.place(pin) for pin in pins]
            for place in places:
                off, _ = other.nearest(turn * place + shift, 12 * curve.seam)
                if off > TOLERANCE:
                    raise Refused(f"opened, one curve lies {show(off)} from the other")

    def flat(self, layer):
        """The pieces of a layer, without what is folded out of the way, and its curve."""
        work, curve = self.works[layer], self.curves[layer]
        return lying_flat(work.patches, curve.run.pieces, work.begun), curve


@dataclass
class CurvedPath:
    """Stitches along the chains of both layers."""

    tips: tuple  # of each layer: (pieces, line) at both ends
    joined: tuple | None
    kind: str = "curve"
    stops: tuple = ("raw", "raw")
    leg: int = 0
    body: int = 1


def sew_curve(making, stack, body, join):
    laid = stack.laid
    if stack.paths:
        raise Refused("a curve is sewn once")
    if abs(inches(body["by"]) - making.seam) > 1e-9:
        raise Refused(f"sews {show(inches(body['by']))} inside the edges, the seam is {show(making.seam)}")
    if any(variant(body[end])[0] != "raw" for end in ("from", "to")):
        raise Refused("a curve is sewn from raw end to raw end")
    tips, faces = [], []
    for layer, what in ((0, "lower layer"), (1, "upper layer")):
        patches, curve = laid.flat(layer)
        faces.append(covered(patches, curve, laid.spans[layer], what))
        tips.append(tuple(tips_of(patches, curve, along, first) for along, first in zip(laid.spans[layer], (True, False))))
    joined = None
    if join:
        if any(len(each) != 1 for each in faces):
            raise Refused("a join must have one face on each side")
        cloths = {patch.cloth for patch in stack.cloth() if patch.face in faces[0] | faces[1]}
        if len(cloths) != 1:
            raise Refused("a join is of two cloths")
        joined = (*faces[0], *faces[1])
    return CurvedPath(tuple(tips), joined)


def covered(patches, curve, span, what):
    """The faces along the stitches; the run's pieces cover all of them, no other takes any in."""
    stretches, faces = [], set()
    for parts in whole_pieces(patches):
        taken = [stretch for part in parts for stretch in curve.taken_in(part, *span)]
        total = sum(high - low for low, high in taken)
        if parts[0].key in curve.run.pieces:
            stretches += taken
            if total > TOLERANCE:
                faces.add(parts[0].face)
        elif total > TOLERANCE:
            raise Refused(f"the stitches catch piece {parts[0].label} of the {what} by {show(total)}: it has no edge here")
    reach = span[0]
    for low, high in sorted(stretches):
        if low > reach + TOLERANCE:
            break
        reach = max(reach, high)
    if reach < span[1] - TOLERANCE:
        raise Refused(f"the seam has no cloth under it in the {what} {show(reach - span[0])} from its start")
    return faces


def tips_of(patches, curve, along, first):
    """(pieces not of the run that lose cloth beyond a pin, the line the path goes on by there)."""
    pin, four = curve.place(along), 4 * curve.seam
    line = Line(pin, curve.way(along, onward=not first))
    low, high = (-four, 0.0) if first else (0.0, four)
    tips = set()
    for parts in whole_pieces(patches):
        if parts[0].key in curve.run.pieces:
            continue
        corners = [corner for part in parts for corner in part.corners]
        below = -min(line.left(corner) for corner in corners)
        crossed = any(
            min(end, high) - max(start, low) > BREATH for part in parts for start, end, _ in part.stretches(line)
        )
        near = max(abs(corner - pin) for corner in corners) <= four and below > BREATH
        if crossed or near:
            if below > four + TOLERANCE:
                raise Refused(f"piece {parts[0].label} reaches {show(below)} beyond the curve's end")
            tips.add(parts[0].key)
    return tips, line


def open_curve(making, stack, into):
    laid, path = stack.laid, stack.paths[0]
    layers = []
    for layer in (0, 1):
        flat, curve = laid.flat(layer)
        lying = {patch.key for patch in flat}
        kept = []
        for patch in laid.works[layer].patches:
            if patch.key in curve.run.pieces:
                patch = curve.folded(patch)
            elif patch.key in lying:
                for tips, line in path.tips[layer]:
                    if patch is not None and patch.key in tips:
                        patch = patch.kept(line, +1, FOLD)
            if patch is not None:
                kept.append(patch)
        if not kept:
            raise Refused("a whole layer is folded under")
        layers.append(kept)
    upper = [patch.carried(laid.opened) for patch in layers[1]]
    if path.joined is not None:
        for patch in upper:
            if patch.face == path.joined[1]:
                patch.face = path.joined[0]
    frames = {
        slot: after(laid.opened, laid.works[1].frames[slot]) if slot in stack.upper_slots else motion
        for slot, motion in stack.frames.items()
    }
    frames[making.fresh(into)] = STAY
    return Work(
        layers[0] + upper, frames, dict(stack.seams), stack.bearers, stack.spent | laid.names, list(stack.stops),
        dict(stack.begun),
    )  # fmt: skip

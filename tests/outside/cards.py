"""Mosaics over card: basting pieces over printed cards, whipping folds together, taking cards out, and how many it takes."""

from dataclasses import dataclass, replace

from borne import Borne
from papers import as_printed
from plane import BOW, FOLD, SIDE, STAY, TOLERANCE, Line, Refused, convex, go, inches, show
from work import Run, Work, edge_name, edge_segments, side_of


class Card:
    """One printed card, as it lies behind the finished patch."""

    def __init__(self, data):
        self.name, self.uses, self.cut = data["name"], data["uses"], data["cut"]
        self.corners = [as_printed(corner) for corner in data["corners"]]
        self.flat = list(data.get("flat", []))
        where, count = f"card {self.name}", len(self.corners)
        if count < 3 or not convex(self.corners):
            raise Refused("its outline is not convex and once round", where)
        for side in range(count):
            if abs(self.corners[(side + 1) % count] - self.corners[side]) <= TOLERANCE:
                raise Refused(f"side {side} is no longer than the tolerance", where)
        if any(isinstance(side, bool) or not isinstance(side, int) or not 0 <= side < count for side in self.flat):
            raise Refused("a side it has not is flat", where)
        if sorted(set(self.flat)) != self.flat:
            raise Refused("its flat sides are not named once each, rising", where)
        if len(self.flat) == count:
            raise Refused("nothing is folded over it", where)
        self.folded = frozenset(side for side in range(count) if side not in self.flat)


@dataclass(frozen=True)
class CardIn:
    """A patch's card: its corners in the patch's frame, and which of its sides are whipped."""

    card: Card
    corners: tuple
    whipped: frozenset = frozenset()
    inside: bool = True  # else it has been taken out

    def carried(self, motion):
        return replace(self, corners=tuple(go(motion, corner) for corner in self.corners))

    def side(self, number):
        return self.corners[number], self.corners[(number + 1) % len(self.corners)]

    def done(self):
        return self.whipped >= self.card.folded


class Stock:
    """How many cards are in cloth, over all makings."""

    def __init__(self, data):
        self.cards = {}
        for each in data:
            card = Card(each)
            if card.name in self.cards:
                raise Refused("two cards have one name", f"card {card.name}")
            self.cards[card.name] = card
        self.here, self.most, self.uses = ({name: 0 for name in self.cards} for _ in range(3))

    def made(self, moves, times):
        """A making is done so often; `moves`: (card, how many more are in cloth), in order."""
        for name in self.cards:
            changes = [change for card, change in moves if card == name]
            here = most = 0
            for change in changes:
                here += change
                most = max(most, here)
            # The fullest moment is in the first time or in the last.
            self.most[name] = max(self.most[name], self.here[name] + max(0, times - 1) * max(0, here) + most)
            self.here[name] += times * here
            self.uses[name] += times * sum(1 for change in changes if change > 0)

    def check(self):
        for name, card in self.cards.items():
            for what, counted, printed in (("in cloth at the end", self.here[name], 0),
                                           ("bastings over it", self.uses[name], card.uses),
                                           ("needed at one time", self.most[name], card.cut)):  # fmt: skip
                if isinstance(printed, bool) or counted != printed:
                    raise Refused(f"{counted} {what}, not {printed}", f"card {name}")


def cards_in(work):
    return [patch for patch in work.patches if patch.bears and patch.bears.card and patch.bears.card.inside]


def without_cards(work):
    """The work itself, if no card is in it."""
    inside = cards_in(work)
    if inside:
        raise Refused(f"a card is in piece {inside[0].label}")
    return work


def box_middle(places, way):
    """Along a direction and square to it, the middle of the box of some places."""
    turned = [place / way for place in places]
    wide, high = [z.real for z in turned], [z.imag for z in turned]
    return complex(min(wide) + max(wide), min(high) + max(high)) / 2 * way


def baste(making, piece, card, side, along, least, most, into, flat=(), inside=()):
    least, most = inches(least), inches(most)
    if least <= TOLERANCE or most < least:
        raise Refused(f"at least {show(least)} and at most {show(most)} reach over the card")
    stock = making.stock.cards.get(card)
    if stock is None:
        raise Refused(f"no card {card}")
    work = making.one_piece(piece)
    patch = work.patches[0]
    if any(BOW in names for names in patch.names) or not convex(patch.corners):
        raise Refused("a piece that is not convex, or has a bowed edge, is not basted")
    if isinstance(side, bool) or not isinstance(side, int) or not 0 <= side < len(stock.corners):
        raise Refused(f"the card has no side {side!r}")
    edges = [edge_segments(work, ref)[0] for ref in flat]
    if len(edges) != len(stock.flat) or len({edge_name(ref) for ref in flat}) != len(edges):
        raise Refused(f"{len(stock.flat)} sides of the card are flat, {len(edges)} edges are named for them")
    corners = lying(stock, work, side, edge_segments(work, along)[0], inside)
    reaches(making, stock, patch, corners, edges, least, most)
    making.moves.append((card, +1))
    count = len(corners)
    raw = {(segment.start, segment.end): (into, number) for number, segment in zip(stock.flat, edges)}
    names = [raw_names(raw.get((start, end))) for start, end, _ in patch.edges()]
    fold = patch.like(patch.corners, names)
    for number in sorted(stock.folded):
        line = Line.through(corners[number], corners[(number + 1) % count])
        fold = fold and fold.kept(line, +1, ("now", number))
    if fold is None:
        raise Refused("nothing is left of the piece")
    folded = {frozenset([("now", number)]): frozenset([FOLD, (into, number), (SIDE, number)]) for number in stock.folded}
    names = [folded.get(each, each) for each in fold.names]
    ours = sorted(name[1] for each in names for name in each if name[0] == into)
    if ours != list(range(count)) or len(names) != count:
        raise Refused("what is left has not one edge for each side of the card, and no other")
    bears = replace(fold.bears or Borne(), card=CardIn(stock, tuple(corners)))
    done = fold.like(fold.corners, names).bearing(bears)
    making.fresh(into)
    bearers = {(into, number): {done.key} for number in range(count)}
    making.live[into] = Work([done], work.frames | {into: STAY}, {}, bearers)


def raw_names(name):
    """What an edge left flat is called, by the side of the card there; any other edge has no name any more."""
    return frozenset() if name is None else frozenset([name, (SIDE, name[1])])


def lying(card, work, side, along, inside):
    """Where the card's corners come to lie behind a piece."""
    count, patch = len(card.corners), work.patches[0]
    way = card.corners[(side + 1) % count] - card.corners[side]
    turn = Line.through(along.start, along.end).way / (way / abs(way))
    corners = [corner * turn for corner in card.corners]
    if len(inside) > 2:
        raise Refused("a card is laid by two of its sides at most")
    lines = []
    for each in inside:
        number, by = each["side"], inches(each["by"])
        if isinstance(number, bool) or not isinstance(number, int) or not 0 <= number < count:
            raise Refused(f"the card has no side {number!r}")
        edge = edge_segments(work, each["edge"])[0]
        lines.append((Line.through(edge.start, edge.end), (corners[number] + corners[(number + 1) % count]) / 2, by))
    if not lines:
        way = Line.through(along.start, along.end).way
        shift = box_middle(patch.corners, way) - box_middle(corners, way)
        return [corner + shift for corner in corners]
    first, middle, by = lines[0]
    shift = 1j * first.way * (by - first.left(middle))
    if len(lines) == 1:
        off = box_middle(patch.corners, first.way) - box_middle([corner + shift for corner in corners], first.way)
        shift += first.way * (off / first.way).real
    else:
        line, middle, by = lines[1]
        climbs = (line.way.conjugate() * first.way).imag  # to the left of the second line, for each inch along the first
        if abs(climbs) <= 1e-6:
            raise Refused("the edges a card is laid by run side by side")
        shift += first.way * (by - line.left(middle + shift)) / climbs
    return [corner + shift for corner in corners]


def reaches(making, card, patch, corners, edges, least, most):
    """Seams outside the flat sides; enough cloth, and not too much, over the others."""
    count = len(corners)
    named = {(edge.start, edge.end) for edge in edges}
    bounds = [Line.through(start, end) for start, end, _ in patch.edges() if (start, end) not in named]
    for number, edge in zip(card.flat, edges):
        line = Line.through(edge.start, edge.end)
        for end in (corners[number], corners[(number + 1) % count]):
            if abs(line.left(end) - making.seam) > TOLERANCE:
                raise Refused(f"flat side {number} lies {show(line.left(end))} inside its edge, not a seam")
    for number in sorted(card.folded):
        ends = corners[number], corners[(number + 1) % count]
        line = Line.through(*ends)
        over = max(-line.left(corner) for corner in patch.corners)
        if over > most + TOLERANCE:
            raise Refused(f"{show(over)} of cloth reach over side {number}, at most {show(most)} should")
        for end in ends:
            place = line.place(line.along(end), -least)
            short = min(bound.left(place) for bound in bounds) if bounds else 0.0
            if short < -TOLERANCE:
                raise Refused(f"the cloth ends {show(-short)} short of {show(least)} over side {number}")


# --- whipping ----------------------------------------------------------------------------------------------------


class Fold(Run):
    """A run of folded edges; its ends are the corners of the cards."""

    def __init__(self, thing, refs):
        super().__init__(thing, refs, folded=True)
        self.sides, segments = [], []
        for segment in self.segments:
            number = side_of(segment)
            card = segment.patch.bears and segment.patch.bears.card
            if FOLD not in segment.names or not card or not card.inside or number in card.whipped:
                raise Refused(f"an edge of piece {segment.patch.label} is not folded over a card")
            self.sides.append((segment.patch.key, number))
            segments.append(replace(segment, start=card.side(number)[0], end=card.side(number)[1]))
        self.segments = segments
        self.line = Line.through(*max(((s.start, s.end) for s in segments), key=lambda ends: abs(ends[1] - ends[0])))

    def outer(self):
        return self.segments[0].start, self.segments[-1].end


def whip(making, a, b, edges, into):
    here, there = making.take(a, Work).closed(), making.take(b, Work).closed()
    if not edges:
        raise Refused("no edges are whipped")
    pairs = [
        (Fold(here, pair["a"]).flush("the edge in hand"), Fold(there, pair["b"]).flush("the other edge")) for pair in edges
    ]
    one, other = pairs[0]
    turn = -one.line.way / other.line.way
    middles = [sum(run.outer()) / 2 for run in (one, other)]
    motion = (turn, middles[0] - turn * middles[1], False)
    last = None
    for number, (one, other) in enumerate(pairs):
        start, end = one.outer()
        far, near = (go(motion, place) for place in other.outer())  # it runs against the first
        off = max(abs(start - near), abs(end - far))
        if off > TOLERANCE:
            raise Refused(f"the corners of pair {number} lie {show(off)} apart")
        if last is not None and max(abs(start - last[0]), abs(near - last[1])) > TOLERANCE:
            raise Refused(f"pair {number} does not begin where the one before ended")
        last = end, far
    making.fresh(into)
    sides = [side for pair in pairs for run in pair for side in run.sides]
    if len(set(sides)) != len(sides):
        raise Refused("an edge is whipped twice")
    whipped = {}
    for key, number in sides:
        whipped.setdefault(key, set()).add(number)
    patches = here.patches + [patch.carried(motion) for patch in there.patches]
    patches = [whipped_along(patch, whipped.get(patch.key)) for patch in patches]
    moved = there.moved(motion)
    seams = here.seams | moved.seams
    for number, (one, _) in enumerate(pairs):
        seams[(into, number)] = (into, *one.outer())
    spent = here.spent | there.spent | {name for pair in pairs for run in pair for name in run.names}
    frames = here.frames | moved.frames | {into: STAY}
    making.live[into] = Work(patches, frames, seams, here.bearers | there.bearers, spent, here.stops + there.stops)
    making.sewn += len(pairs)


def whipped_along(patch, sides):
    if not sides:
        return patch
    names = [
        frozenset([FOLD, *(name for name in each if name[0] == SIDE)]) if any((SIDE, side) in each for side in sides) else each
        for each in patch.names
    ]
    card = patch.bears.card
    bears = replace(patch.bears, card=replace(card, whipped=card.whipped | sides))
    return patch.like(patch.corners, names).bearing(bears)


def take_out(making, of, cards):
    work = making.see(of, Work)
    found, patches = {}, []
    for patch in work.patches:
        card = patch.bears and patch.bears.card
        if card and card.inside and card.done():
            found[card.card.name] = found.get(card.card.name, 0) + 1
            patch = patch.bearing(replace(patch.bears, card=replace(card, inside=False)))
        patches.append(patch)
    printed = {each["card"]: each["count"] for each in cards}
    if any(isinstance(count, bool) for count in printed.values()) or len(printed) != len(cards):
        raise Refused("a card is named twice")
    if not found or printed != found:
        raise Refused(f"{found or 'no cards'} come out, printed {printed}")
    work.patches = patches
    making.moves += [(name, -count) for name, count in found.items()]

"""Doing the cutting plan: every strip, every cut, and the pieces that come off, with all its checks."""

import cmath
import math

from angled import along_ruler
from borne import Borne
from hollow import Hollow, once_round
from plane import BOW, FINER, SURE, TOLERANCE, UNITS, Line, Patch, Refused, apart, convex, go, show, tidy, units, variant
from templates import Template

TURNS = {"as": 0, "quarter": 1, "half": 2, "three-quarters": 3}


class Cutter:
    """Cuts a pattern's cloth; afterwards `kinds` has (piece, count) by name, in the order first cut."""

    def __init__(self, pattern):
        recipe = pattern["recipe"]
        self.notes = {}
        for note in recipe["pieces"]:
            if note["piece"] in self.notes:
                raise Refused(f"kind of piece {note['piece']} is listed twice")
            self.notes[note["piece"]] = note
        self.prints = {note["fabric"]: note["print"] for note in recipe["fabrics"]}
        if len(self.prints) != len(recipe["fabrics"]):
            raise Refused("a cloth is listed twice among the fabrics")
        for kind, note in self.notes.items():
            if note["fabric"] not in self.prints:
                raise Refused(f"piece {kind} is to be of {note['fabric']}, which is not among the fabrics")
        prints = pattern["cutting"].get("templates", [])
        self.templates = {template.name: template for template in map(Template, prints)}
        if len(self.templates) != len(prints):
            raise Refused("two templates have one name")
        self.kinds = {}
        self.fabric = ""
        bought = {}
        for cloth in pattern["bought"]["cloths"]:
            if cloth["fabric"] in bought:
                raise Refused("bought twice over", f"cloth {cloth['fabric']}")
            bought[cloth["fabric"]] = cloth
        taken, opened = {}, {}
        for cloth in pattern["cutting"]["cloths"]:
            self.cloth(cloth, bought, taken, opened)

    def cloth(self, cloth, bought, taken, opened):
        self.fabric = cloth["fabric"]
        where = f"cloth {self.fabric}"
        if self.fabric not in bought:
            raise Refused("is cut but not bought", where)
        if self.fabric not in self.prints:
            raise Refused("is cut but not among the fabrics", where)
        have = bought[self.fabric]
        usable, lost = units(cloth["usable"]), units(cloth["square_up"])
        if usable < 0 or lost < 0:
            raise Refused("a length is negative", where)
        if usable > units(have["usable"]):
            raise Refused(
                f"strips use {show(usable / UNITS)} across, bought {show(units(have['usable']) / UNITS)}", where
            )
        alike, sold = cloth.get("alike"), have.get("pieces")
        if (alike is None) != (sold is None):
            raise Refused("is cut off the bolt and bought in pieces, or the other way about", where)
        copies = 1 if alike is None else whole(alike["count"])
        need = lost + (taken.get(self.fabric, 0) if alike is None else 0)
        for number, strip in enumerate(cloth["strips"]):
            need += units(strip["height"]) * whole(strip["times"])
            self.strip(strip, usable, copies, f"{where}, strip {number + 1}")
        if alike is not None:
            there, each = units(alike["length"]), units(sold["each"])
            if there > each:
                raise Refused(f"a piece is cut {show(there / UNITS)} long, sold {show(each / UNITS)}", where)
            if need > there:
                raise Refused(f"strips take {show(need / UNITS)} of a piece {show(there / UNITS)} long", where)
            opened[self.fabric] = opened.get(self.fabric, 0) + copies
            if opened[self.fabric] > whole(sold["count"]):
                raise Refused(f"{opened[self.fabric]} pieces are cut, {sold['count']} bought", where)
            return
        if need > units(have["length"]):
            raise Refused(
                f"strips take {show(need / UNITS)} of length, bought {show(units(have['length']) / UNITS)}", where
            )
        taken[self.fabric] = need

    def strip(self, strip, usable, copies, where):
        height, copies = units(strip["height"]), copies * whole(strip["times"])
        if height <= 0:
            raise Refused("has no height", where)
        foot = head = 0
        number = 0
        for run in strip["runs"]:
            moves = [(units(cut["lower"]), units(cut["upper"])) for cut in run["cuts"]]
            if any(lower < 0 or upper < 0 or lower + upper == 0 for lower, upper in moves):
                raise Refused("a cut goes backward or nowhere", where)
            # A run that ends parallel to where it began gives the same pieces every time: once, and multiplied.
            drift = sum(lower - upper for lower, upper in moves)
            times = whole(run["times"])
            rounds, each = (1, times) if drift == 0 and times else (times, 1)
            for _ in range(rounds):
                for (lower, upper), cut in zip(moves, run["cuts"]):
                    number += 1
                    at = f"{where}, cut {number}"
                    over = max(foot + lower, head + upper) - usable
                    if over > 0:
                        raise Refused(f"ends {show(over / UNITS)} past the usable width", at)
                    corners = [(foot, 0), (foot + lower, 0), (head + upper, height), (head, height)]
                    if cut.get("ruler") is not None:
                        along_ruler(cut["ruler"], corners, at, kept=cut["gives"] != "waste")
                    self.gives(cut["gives"], corners, copies * each, at)
                    foot, head = foot + lower, head + upper
            if each > 1:
                foot, head = foot + (each - 1) * sum(m[0] for m in moves), head + (each - 1) * sum(m[1] for m in moves)
                if max(foot, head) > usable:
                    raise Refused(f"cuts end {show((max(foot, head) - usable) / UNITS)} past the usable width", where)
        rest = strip.get("rest", [])
        if sum(units(inner["height"]) * whole(inner["times"]) for inner in rest) > height:
            raise Refused("the narrower strips cut from its rest are higher than the strip", where)
        for inner_number, inner in enumerate(rest):
            self.strip(inner, usable - max(foot, head), copies, f"{where}, rest {inner_number + 1}")

    def gives(self, gives, corners, copies, where):
        what, body = variant(gives)
        (foot, _), (foot_end, _), (head_end, height), (head, _) = corners
        box = foot == head and foot_end == head_end
        wide = foot_end - foot
        if what == "waste":
            return
        if what == "piece":
            turn = TURNS.get(body.get("turn", "as"))
            if turn is None:
                raise Refused(f"no such turn: {body['turn']}", where)
            # The piece's edge i is the quadrilateral's edge i + turn.
            self.off(body, corners, [(i - turn) % 4 for i in range(4)], copies, where, turned=True)
            return
        if not box:
            raise Refused(f"{what} can only be cut from a rectangle", where)
        low_left, low_right, up_right, up_left = corners
        if what == "halves":
            if body["rising"]:
                self.off(body["lower"], [low_left, low_right, up_right], [0, 1, 2], copies, where)
                self.off(body["upper"], [up_right, up_left, low_left], [0, 1, 2], copies, where)
            else:
                self.off(body["lower"], [low_left, low_right, up_left], [0, 1, 2], copies, where)
                self.off(body["upper"], [up_right, up_left, low_right], [0, 1, 2], copies, where)
        elif what == "quarters":
            if wide != height:
                raise Refused("only a square is cut in quarters", where)
            if len(body) != 4:
                raise Refused(f"a square cut in quarters gives four pieces, not {len(body)}", where)
            middle = (foot + wide / 2, height / 2)
            ring = [low_left, low_right, up_right, up_left]
            for i, piece in enumerate(body):
                self.off(piece, [ring[i], ring[(i + 1) % 4], middle], [0, 1, 2], copies, where)
        elif what == "shaped":
            self.shaped(body, corners, copies, where)
        elif what == "template":
            template = self.templates.get(body["template"])
            if template is None:
                raise Refused(f"no template {body['template']}", where)
            across, along = template.box()
            if across > wide * FINER or along > height * FINER:
                raise Refused(f"template {body['template']} does not fit the cloth cut for it", where)
            self.by_template(body["piece"], template, copies, where)
        else:
            raise Refused(f"a cut that gives {what!r} is not known", where)

    def by_template(self, piece, template, copies, where):
        places = [template.on_cloth(corner) for corner, _ in template.outline]
        names = [names for _, names in template.outline]
        patch = self.patch(piece, [(x / FINER, y / FINER) for x, y in places], names)
        if not template.line and not template.bowed:
            patch = tidy(patch)
        elif not once_round(patch.corners):
            raise Refused(f"the outline of template {template.name} does not go once round", where)
        if patch is None:
            raise Refused("the piece has no cloth", where)
        if template.bowed or template.marks or template.line:
            marks = tuple(complex(*template.on_cloth(mark)) / FINER / UNITS for mark in template.marks)
            line = template.line and tuple(complex(*template.on_cloth(each)) / FINER / UNITS for each in template.line)
            bears = Borne(marks, line=line)
            patch = Hollow(0, patch.label, patch.cloth, patch.up, patch.corners, patch.names, 0, bears)
        self.give_out(piece, patch, copies, where, False)

    def shaped(self, body, corners, copies, where):
        foot = corners[0][0]
        patch = self.patch(body["piece"], corners, [0, 1, 2, 3])
        for number, cut in enumerate(body["cuts"]):
            dots = [
                complex(foot + units(dot["from_left"]), units(dot["from_lower"])) / UNITS
                for dot in (cut["from"], cut["to"])
            ]
            past = units(cut["past"]) / UNITS
            patch = patch.kept(Line.through(*dots).moved(-past), +1, 4 + number)
            if patch is None:
                raise Refused("nothing is left of the piece", where)
        self.give_out(body["piece"], patch, copies, where, turned=False)

    def patch(self, piece, corners, numbers):
        places = [complex(x, y) / UNITS for x, y in corners]
        names = [number if isinstance(number, frozenset) else frozenset([number]) for number in numbers]
        return Patch(0, piece["piece"], self.fabric, 1j, places, names, 0)

    def off(self, piece, corners, numbers, copies, where, turned=False):
        patch = tidy(self.patch(piece, corners, numbers))
        if patch is None:
            raise Refused("the piece has no cloth", where)
        self.give_out(piece, patch, copies, where, turned)

    def give_out(self, piece, patch, copies, where, turned):
        kind = piece["piece"]
        if not turned and piece.get("turn", "as") != "as":
            raise Refused("only a whole piece can be turned", where)
        note = self.notes.get(kind)
        if note is None:
            raise Refused(f"cuts a piece {kind} that the recipe does not list", where)
        if note["fabric"] != self.fabric:
            raise Refused(f"piece {kind} is to be of {note['fabric']}", where)
        line = patch.bears and patch.bears.line
        if line and not once_round(line):
            raise Refused(f"the line of piece {kind} does not go once round", where)
        if not line and not any(BOW in names for names in patch.names) and not convex(patch.corners):
            raise Refused(f"piece {kind} is not convex", where)
        if kind in self.kinds:
            first, count = self.kinds[kind]
            differ = unlike(first, patch, self.prints[self.fabric])
            if differ:
                raise Refused(f"not all pieces {kind} are alike: {differ}", where)
            self.kinds[kind] = (first, count + copies)
        else:
            self.kinds[kind] = (patch, copies)


def whole(number):
    if isinstance(number, bool) or not isinstance(number, int) or number < 0:
        raise Refused(f"{number!r} is not a number of times")
    return number


def same_way(one, other, print_note):
    """Whether two ups agree, within a degree, as far as the print minds."""
    if print_note == "none":
        return True
    turned = abs(cmath.phase(other / one))
    return turned <= SURE or (print_note == "two-way" and math.pi - turned <= SURE)


def unlike(first, second, print_note):
    """Why two pieces are not alike edge for edge, turning allowed, turning over never; None when they are."""
    ones, twos = edges_of(first), edges_of(second)
    if set(ones) != set(twos):
        return "they have not the same edges"
    longest = max(ones, key=lambda name: abs(ones[name][-1] - ones[name][0]))
    start, end, to, to_end = ones[longest][0], ones[longest][-1], twos[longest][0], twos[longest][-1]
    turn = (to_end - to) / (end - start)
    motion = (turn / abs(turn), to - turn / abs(turn) * start, False)
    off = max(abs(go(motion, ones[name][i]) - twos[name][i]) for name in ones for i in (0, -1))
    if any(BOW in name for name in ones):
        off = max(off, apart([go(motion, corner) for corner in first.corners], second.corners))
    if off > TOLERANCE:
        return f"a corner differs by {show(off)}"
    for what in ("marks", "line"):
        if places_differ(what, first, second, motion):
            return f"their {what} differ"
    if not same_way(motion[0] * first.up, second.up, print_note):
        return "their prints point different ways"
    return None


def edges_of(patch):
    """Of each edge, by its names, the places it goes through."""
    edges = {}
    for start, end, names in patch.edges():
        edges.setdefault(names, []).append((start, end))
    places = {}
    for names, parts in edges.items():
        # A bowed edge may go on from the last corner to the first.
        ends = [end for _, end in parts]
        first = next((i for i, (start, _) in enumerate(parts) if start not in ends), 0)
        parts = parts[first:] + parts[:first]
        places[names] = [parts[0][0], *(end for _, end in parts)]
    return places


def places_differ(what, first, second, motion):
    """Whether the printed dots of two pieces, or the corners of their lines, lie differently."""
    ones, twos = ((patch.bears and getattr(patch.bears, what)) or () for patch in (first, second))
    return len(ones) != len(twos) or any(abs(go(motion, one) - two) > TOLERANCE for one, two in zip(ones, twos))

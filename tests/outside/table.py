"""The sewing: one making of a unit, step by step, as docs/recipe.md says what each step means."""

from dataclasses import replace

import cards
import grounds
import rotary
import sections
import sewing
from giving import Unit, give_unit, round_sides
from laying import Laying, TwoDots
from papers import Paper
from pinned import Pinned
from plane import STAY, TOLERANCE, Patch, Refused, after, back, go, inches, show, variant
from sections import Section
from work import Eyes, Run, Stack, Work, carry_frames, still


def keys_of(work):
    """Every piece that is, or was, of a work."""
    return {patch.key for patch in work.patches}.union(*work.bearers.values())


def named(name):
    """Whether a name on an edge of a piece or unit says what it is; else it is a number."""
    return isinstance(name, tuple)


def both_above(stack, upper, motion):
    """The upper layer of a stack and what is laid over it as one work, in the frame of what is laid."""
    home = back(motion)
    first = stack.layers[1]
    return Work(
        [patch.carried(home) for patch in stack.upper] + upper.patches,
        {slot: after(home, stack.frames[slot]) for slot in stack.upper_slots} | upper.frames,
        first.seams | upper.seams,
        first.bearers | upper.bearers,
        first.spent | upper.spent,
        first.stops + upper.stops,
        first.begun | upper.begun,
    )


class Making:
    """One making: the parts on the table, then its steps."""

    def __init__(self, make, parts, seam, mark, prints, stock=None, guides=None):
        self.stock, self.moves = stock, []  # the cards there are; (card, how many more are in cloth), in order
        self.guides, self.sheets = guides or {}, {}  # the printed sheets there are, and those that lie on works
        self.seam, self.mark, self.prints = seam, mark, prints
        self.live, self.marks, self.slots = {}, {}, set()
        self.as_cut = set()  # the slots whose piece lies as it was cut
        self.top = None
        self.sewn = 0
        self.overhangs = set()  # as measured on the table at notches, inches
        self.number = 0
        for part, take in parts:
            slot = self.fresh(part["slot"])
            self.live[slot] = self.lay_out(slot, take)
            if isinstance(take, Patch):
                self.as_cut.add(slot)

    # --- slots ---

    def fresh(self, slot):
        if isinstance(slot, bool) or not isinstance(slot, int):
            raise Refused(f"a slot is a number, not {slot!r}")
        if slot in self.slots:
            raise Refused(f"slot {slot} is used twice")
        self.slots.add(slot)
        return slot

    def lay_out(self, slot, take):
        """A part from the pool, its edges renamed as this making calls them."""
        if isinstance(take, Paper):
            return Section(take, frames=still(slot))
        patches = take.patches if isinstance(take, Unit) else [take]
        renamed = []
        for number, patch in enumerate(patches):
            if patch.bears and patch.bears.line:  # no step names the edges of a piece to be laid on a ground
                names = [frozenset()] * len(patch.names)
            else:
                names = [frozenset(name if named(name) else (slot, name) for name in edge) for edge in patch.names]
            renamed.append(patch.owned(slot, (slot, number), names))
        if not isinstance(take, Unit):
            bearers = {name: {(slot, 0)} for edge in renamed[0].names for name in edge if name[0] == slot}
            return Work(renamed, still(slot), {}, bearers)
        seams = {(slot, number): (slot, start, end) for number, (start, end) in enumerate(take.seams)}
        bearers = {(slot, side): {(slot, number) for number in numbers} for side, numbers in take.bearers.items()}
        return Work(renamed, still(slot), seams, bearers, set(), [(slot, stop) for stop in take.stops])

    def take(self, slot, kind):
        """A work or stack that will be used up."""
        thing = self.see(slot, kind)
        del self.live[slot]
        return thing

    def see(self, slot, kind):
        thing = self.live.get(slot)
        if thing is None:
            raise Refused(f"slot {slot} is not on the table")
        if not isinstance(thing, kind):
            raise Refused(f"slot {slot} is {self.KINDS.get(type(thing), 'something else')}")
        return thing

    def lying(self, slot):
        """What lies on the table under this very slot, opened or not."""
        return self.see(slot, (Work, Stack))

    def one_piece(self, slot):
        """The one cut piece that lies in a slot as it was taken."""
        work = self.take(slot, Work)
        if slot not in self.as_cut:
            raise Refused(f"slot {slot} is not a piece as it was cut")
        return work

    # --- steps ---

    def do(self, steps):
        for number, step in enumerate(steps):
            what, body = variant(step)
            self.number = number
            action = self.ACTIONS.get(what)
            if action is None:
                raise Refused(f"step {what!r} is not rehearsed here", f"step {number + 1}")
            try:
                action(self, **body)
            except Refused as refused:
                refused.where = f"step {number + 1} ({what})" + (f", {refused.where}" if refused.where else "")
                raise
            except (KeyError, TypeError, AttributeError, IndexError, ValueError, ArithmeticError) as broken:
                raise Refused(
                    f"cannot be read: {type(broken).__name__}: {broken}", f"step {number + 1} ({what})"
                ) from broken

    def draw(self, on, name, kind, find):
        if name in self.marks:
            raise Refused(f"two marks are called {name!r}")
        holder = self.lying(on)
        if isinstance(holder, Work):
            cards.without_cards(holder)
        shape, home = find(Eyes(holder, self.marks)), back(holder.frames[on])
        self.marks[name] = (kind, on, shape.carried(home) if kind == "line" else go(home, shape))

    def step_mark(self, on, name, line):
        self.draw(on, name, "line", lambda eyes: eyes.ruler(line))

    def step_dot(self, on, name, at):
        self.draw(on, name, "dot", lambda eyes: eyes.place(at))

    def step_sew(self, stack, path, join=False):
        if variant(path)[0] == "on-paper":
            sections.sew_on_paper(self, stack, variant(path)[1], join)
        else:
            sewing.sew(self, stack, path, join)

    def step_open(self, stack, press, into):
        on_paper = isinstance(self.live.get(stack), sections.OverPaper)
        (sections.open_on_paper if on_paper else sewing.open_up)(self, stack, press, into)

    def step_lay(self, a, b, how, into):
        if variant(how)[0] == "over-paper":
            sections.lay_over(self, a, b, variant(how)[1], into)
            return
        below, upper = self.take(a, (Work, Stack)), self.take(b, Work)
        for work in (below, upper):
            if isinstance(work, Work):
                cards.without_cards(work)
        lower, lying = below, []
        if isinstance(below, Stack):
            if below.paths or not below.layers:
                raise Refused(f"the stack in slot {a} is sewn already")
            if "open" in (below.laid.kinds if below.laid else ()):
                raise Refused("nothing is laid on a stack laid with an end open")
            if isinstance(below.laid, (TwoDots, Pinned)) or variant(how)[0] in ("two-dots", "curve"):
                raise Refused("what is laid dot on dot, or curve on curve, lies by itself")
            lower, lying = below.layers[0], below.upper
        what, body = variant(how)
        if what == "edges":
            laid = Laying(lower, upper, self, body)
            motion = laid.result()
        elif what == "corner":
            motion, laid = self.lay_corner(lower, upper, body["a"], body["b"]), None
        elif what == "two-dots":
            laid = TwoDots(lower, upper, self, body)
            motion = laid.motion
        elif what == "curve":
            laid = Pinned(lower, upper, self, body)
            motion = laid.motion
        else:
            raise Refused(f"laying {what!r} is not rehearsed here")
        into = self.fresh(into)
        upper_slots, upper_keys, named = set(upper.frames), keys_of(upper), laid.names if laid else set()
        if isinstance(below, Stack):
            if laid is not None and "open" in laid.kinds:
                raise Refused("what is laid on a stack has no end open")
            laid = None  # it is not sewn beside these edges
            upper_slots, upper_keys = upper_slots | below.upper_slots, upper_keys | below.upper_keys
            named, upper = named | below.named, both_above(below, upper, motion)
        frames = dict(lower.frames) | carry_frames(upper.frames, motion)
        frames[into] = STAY
        turned = lying + [patch.carried(motion) for patch in upper.patches[len(lying) :]]
        # What is drawn on the stack is drawn on its lower layer.
        lower = replace(lower, frames=lower.frames | {into: STAY})
        self.live[into] = Stack(
            lower.patches,
            turned,
            frames,
            lower.seams | upper.seams,
            upper_slots,
            lower.bearers | upper.bearers,
            lower.spent | upper.spent,
            [],
            laid,
            motion,
            (lower, upper),
            0,
            named,
            lower.stops + upper.stops,
            lower.begun | upper.begun,
            upper_keys,
        )

    def lay_corner(self, lower, upper, a, b):
        below, above = Eyes(lower, self.marks), Eyes(upper, self.marks)
        corner_a, corner_b = below.corner(a), above.corner(b)
        before_a = Run(lower, [a["before"]]).flush("the lower edge before the corner")
        after_a = Run(lower, [a["after"]]).flush("the lower edge after the corner")
        before_b = Run(upper, [b["before"]]).flush("the upper edge before the corner")
        after_b = Run(upper, [b["after"]]).flush("the upper edge after the corner")
        turn = -before_a.line.way * after_b.line.way  # turned over: after_b's way lies against before_a's
        motion = (turn, corner_a - turn * corner_b.conjugate(), True)
        reach_a = max(abs(corner_a - segment.end) for segment in after_a.segments)
        reach_b = max(abs(corner_b - segment.start) for segment in before_b.segments)
        far = go(motion, corner_b - before_b.line.way * min(reach_a, reach_b))
        if abs(far - (corner_a + after_a.line.way * min(reach_a, reach_b))) > TOLERANCE:
            raise Refused(f"the second edges of the two corners run {show(abs(after_a.line.left(far)))} apart")
        return motion

    def step_check(self, of, what, **rest):
        # `is` is a word of the language this is written in.
        wanted = inches(rest.pop("is"))
        if rest:
            raise Refused(f"cannot read {sorted(rest)}")
        work = self.lying(of)
        measured, body = variant(what)
        if measured == "across":
            one, other = (Run(work, edges).flush(f"run {number + 1}") for number, edges in enumerate(body))
            found = [abs(one.line.left(place)) for segment in other.segments for place in (segment.start, segment.end)]
        elif measured == "between":
            eyes = Eyes(work, self.marks)
            found = [abs(eyes.place(body[0]) - eyes.place(body[1]))]
        else:
            raise Refused(f"measuring {measured!r} is not known")
        worst = max(found, key=lambda each: abs(each - wanted))
        if abs(worst - wanted) > TOLERANCE:
            raise Refused(f"measures {show(worst)}, printed {show(wanted)}")

    def step_finish(self, top, sides, up, seam):
        work = grounds.complete(self, cards.without_cards(self.take(top, Work).closed()))
        if self.top is not None:
            raise Refused("the top is finished twice")
        runs, _ = round_sides(work, sides, self.seam)
        if isinstance(up, bool) or not isinstance(up, int) or not 0 <= up < len(runs):
            raise Refused("no such upper side")
        lines = [run.line.moved(inches(seam)) for run in runs]
        outline = [lines[i - 1].cross(lines[i]) for i in range(len(lines))]
        turn = -1 / lines[up].way  # going round with the cloth on the left, the upper side runs to the left
        self.top = ([patch.carried((turn, 0j, False)) for patch in work.patches], [turn * corner for corner in outline])

    def give(self, give, alone=True):
        """A unit for the pool."""
        return give_unit(self, give, alone)

    def step_sub_cut(self, of, **body):
        cards.without_cards(self.see(of, Work))
        rotary.sub_cut(self, of, **body)

    def step_close(self, work, **body):
        cards.without_cards(self.see(work, Work))
        sewing.close(self, work, **body)

    def step_trim(self, of, **body):
        cards.without_cards(self.see(of, Work))
        rotary.trim(self, of, **body)

    def step_snip(self, of, along):
        cards.without_cards(self.see(of, Work))
        rotary.snip(self, of, along)
        self.as_cut.discard(of)

    def step_set_aside(self, of, label, what, **rest):
        if not isinstance(label, str):
            raise Refused("what is set aside has no name")
        self.step_check(of, what, **rest)
        grounds.complete(self, cards.without_cards(self.take(of, Work).closed()))

    KINDS = {
        Work: "no stack", Stack: "an unopened stack", Section: "a section of foundation paper",
        sections.OverPaper: "an unopened piece on foundation paper",
    }  # fmt: skip

    ACTIONS = {
        "mark": step_mark, "dot": step_dot, "lay": step_lay, "sew": step_sew, "pivot": sewing.pivot,
        "cut-apart": rotary.cut_apart, "open": step_open, "close": step_close, "snip": step_snip,
        "sub-cut": step_sub_cut, "trim": step_trim, "check": step_check, "set-aside": step_set_aside, "finish": step_finish,
        "spread": sections.spread, "pare": sections.pare, "cut-out": sections.cut_out,
        "baste": cards.baste, "whip": cards.whip, "take-out": cards.take_out,
        "guide": grounds.lay_guide, "stitch-down": grounds.stitch_down,
    }  # fmt: skip

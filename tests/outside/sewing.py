"""Seams: sewn beside edges or on a line, turned at a dot, opened, and, where they were begun, closed."""

from dataclasses import replace

from folding import INNER, folded, made_one
from giving import round_sides, stops_of
from laying import Closing, Laying, TwoDots
from pinned import Pinned, open_curve, sew_curve
from plane import FOLD, STAY, TOLERANCE, Line, Refused, after, back, go, inches, over_line, show, variant
from stitches import Stretch, on_line, spans
from work import Begun, Eyes, Path, Stack, Work, lying_flat

ENDS = ("first", "last")


def sew(making, stack, path, join=False):
    work = making.see(stack, Stack)
    what, body = variant(path)
    if isinstance(work.laid, Pinned):
        if what != "beside":
            raise Refused("what is laid curve on curve is sewn beside its edges only")
        paths = [sew_curve(making, work, body, join)]
    elif what == "beside":
        paths = [beside(making, work, body, join)]
    elif what == "on-mark":
        paths = [on_mark(work, Eyes(work, making.marks).drawn_line(body), join)]
    elif what == "both-sides":
        line, by = Eyes(work, making.marks).drawn_line(body["mark"]), inches(body["by"])
        paths = [on_mark(work, line.moved(side * by), join) for side in (1, -1)]
    elif what == "round":
        paths = round_paths(making, work, body["edges"], inches(body["by"]), join)
    else:
        raise Refused(f"a seam {what!r} is not rehearsed here")
    work.paths.extend(paths)
    making.sewn += len(paths)


def a_seam(making, by):
    if abs(by - making.seam) > 1e-9:
        raise Refused(f"sews {show(by)} inside the edges, the seam is {show(making.seam)}")


def beside(making, stack, body, join):
    by, laid = inches(body["by"]), stack.laid
    if not isinstance(laid, Laying):
        raise Refused("no edges were laid together to sew beside")
    a_seam(making, by)
    line = laid.line.moved(by)
    below = Stretch(lying_flat(stack.lower, laid.lower_keys, stack.begun), line, laid.lower_keys, "lower layer")
    above = Stretch(lying_flat(stack.upper, laid.upper_keys, stack.begun), line, laid.upper_keys, "upper layer")
    ends = path_ends(laid.stops, below, above)
    kinds = []
    for i, stop in enumerate((body["from"], body["to"])):
        kind, at = variant(stop)
        if (kind == "at") != (laid.kinds[i] == "open"):
            raise Refused(f"an end {laid.kinds[i]!r} is sewn {kind!r}")
        if kind == "dot" and laid.kinds[i] != "dots":
            raise Refused("the stitches should stop in a dot where no dots were laid together")
        if kind == "at":
            ends[i] = stop_at(making, stack, i, ends, inches(at))
        elif kind not in ("raw", "dot"):
            raise Refused(f"stitches that end {kind!r} are not known")
        kinds.append(kind)
    sewn_over(below, above, ends, laid.stops, by, kinds)
    joined = join_faces(below.faces, above.faces, stack) if join else None
    return Path(
        line, *ends, +1, below.keys | above.keys, joined, "beside", stack.leg, stack.over, tuple(kinds),
        tuple(laid.dots_of(end) for end in ENDS),
        frozenset(laid.names), frozenset(laid.lower_keys | laid.upper_keys), 4 * making.seam,
    )  # fmt: skip


def path_ends(stops, below, above):
    """Where the path ends in both layers: the inner one counts."""
    (low_a, high_a), (low_b, high_b) = below.reach(), above.reach()
    (lows, _), (highs, _) = stops
    low = max(low_a if lows[0] is None else lows[0], low_b if lows[1] is None else lows[1])
    high = min(high_a if highs[0] is None else highs[0], high_b if highs[1] is None else highs[1])
    return [low, high]


def sewn_over(below, above, ends, stops, by, kinds):
    """What the stitches need of both layers; where they stop `at` a length, that is the finished corner."""
    if ends[1] - ends[0] <= TOLERANCE:
        raise Refused("the layers do not lie over one another")
    corners = [(ends[i], ends[i]) if kinds[i] == "at" else stops[i][1] for i in (0, 1)]
    stopped = tuple(kind != "raw" and kind for kind in kinds)
    for layer, stretch in enumerate((below, above)):
        stretch.check(ends, (corners[0][layer], corners[1][layer]), by, stopped)


def stop_at(making, stack, end, ends, by):
    """Where a seam that is only begun stops."""
    if stack.leg:
        raise Refused("a seam of a turned stack cannot be begun only")
    if by < 2 * making.seam:
        raise Refused(f"only {show(by)} are sewn, at least two seams are needed")
    stop = ends[0] + by if end else ends[1] - by
    for low, high in stack.laid.raw_ends():
        if (high - stop if end else stop - low) <= TOLERANCE:
            raise Refused("the seam does not stop short of the run's raw end")
    return stop


def on_mark(stack, line, join):
    if stack.laid is not None and "open" in stack.laid.kinds:
        raise Refused("what is laid with an end open is sewn beside its edges only")
    below, above = spans(stack.lower, line), spans(stack.upper, line)
    if not below or not above:
        raise Refused("the stitches miss a layer")
    if isinstance(stack.laid, TwoDots):
        start, end = stack.laid.covered(line, (below, above))
        joined = join_faces(on_line(stack.lower, line), on_line(stack.upper, line), stack) if join else None
        return Path(line, start, end, 0, None, joined, leg=stack.leg, over=stack.over)
    length = [sum(end - start for start, end in layer) for layer in (below, above)]
    shorter, longer = (below, above) if length[0] <= length[1] else (above, below)
    for start, end in shorter:
        if not any(low - TOLERANCE <= start and end <= high + TOLERANCE for low, high in longer):
            raise Refused("the stitches leave one layer where the other goes on, at both ends or in the middle")
    joined = join_faces(on_line(stack.lower, line), on_line(stack.upper, line), stack) if join else None
    return Path(line, shorter[0][0], shorter[-1][1], 0, None, joined, leg=stack.leg, over=stack.over)


def round_paths(making, stack, edges, by, join):
    """Paths beside every edge once round the lower layer."""
    a_seam(making, by)
    if join:
        raise Refused("a seam round a stack joins no faces")
    if stack.laid is not None and "open" in stack.laid.kinds:
        raise Refused("what is laid with an end open is sewn beside its edges only")
    if not stack.layers:
        raise Refused("a stack that was cut is not sewn round")
    if isinstance(stack.laid, TwoDots):
        raise Refused("what is laid dot on dot is sewn on marks only")
    runs, _ = round_sides(stack.layers[0], [[edge] for edge in edges], making.seam)
    corners = [runs[i - 1].line.cross(run.line) for i, run in enumerate(runs)]
    lines = [run.line.moved(by) for run in runs]
    turns = [lines[i - 1].cross(line) for i, line in enumerate(lines)]
    paths = []
    for i, (run, line) in enumerate(zip(runs, lines)):
        onward = (i + 1) % len(runs)
        level_above(stack, run.line, run.line.along(corners[i]), run.line.along(corners[onward]), i)
        start, end = line.along(turns[i]), line.along(turns[onward])
        if end - start <= TOLERANCE:
            raise Refused(f"no stitches fit along edge {i}")
        for patches, layer in ((stack.lower, "lower layer"), (stack.upper, "upper layer")):
            if not any(low <= start + TOLERANCE and end - TOLERANCE <= high for low, high in spans(patches, line)):
                raise Refused(f"the stitches along edge {i} have no cloth under them in the {layer}")
        paths.append(Path(line, start, end, +1, None, None, "round", stack.leg, stack.over))
    return paths


def level_above(stack, line, start, end, number):
    """Raw edges of the upper layer lie along an edge of the lower from corner to corner."""
    for low, high in sorted(
        sorted((line.along(one), line.along(other)))
        for patch in stack.upper
        for one, other, names in patch.edges()
        if FOLD not in names and INNER not in names and max(abs(line.left(one)), abs(line.left(other))) <= TOLERANCE
    ):
        if low <= start + TOLERANCE:
            start = max(start, high)
    if start < end - TOLERANCE:
        raise Refused(f"the upper layer is not level with edge {number} over its whole length")


def join_faces(below, above, stack):
    """The lower and the upper face that a join makes one."""
    if len(below) != 1 or len(above) != 1:
        raise Refused("a join must have one face on each side")
    cloths = {patch.cloth for patch in stack.cloth() if patch.face in below | above}
    if len(cloths) != 1:
        raise Refused("a join is of two cloths")
    return (*below, *above)


# --- turning at a dot --------------------------------------------------------------------------------------------


def pivot(making, stack, a, b, first, last, meets=()):
    work = making.see(stack, Stack)
    sewn = [path for path in work.paths if path.leg == work.leg]
    if not isinstance(work.laid, Laying) or len(sewn) != 1 or sewn[0].kind != "beside":
        raise Refused("the stack was not sewn exactly once beside the edges it lies by")
    path, old = sewn[0], work.laid
    if "dot" not in path.stops or "at" in path.stops:
        raise Refused("the seam did not stop in a dot")
    new = Laying(*work.layers, making, {"a": a, "b": b, "first": first, "last": last, "meets": meets})
    if "open" in new.kinds:
        raise Refused("no end may be open after a turn")
    onward = path.stops[1] == "dot" and new.dots_of("first") == path.names[1]
    if not onward and not (path.stops[0] == "dot" and new.dots_of("last") == path.names[0]):
        raise Refused("the seam does not turn at the dots in which it stopped")
    motion = new.result()
    dots = new.dots_of("first" if onward else "last")
    for layer, name, before, behind in ((work.layers[0], dots[0], old.a, new.a), (work.layers[1], dots[1], new.b, old.b)):
        if not onward:
            before, behind = behind, before
        if (before.line.way.conjugate() * behind.line.way).imag < -1e-6:
            place = Eyes(layer, making.marks).dot(name)
            if not any(abs(stop - place) <= TOLERANCE for stop in stops_of(layer)):
                raise Refused(f"no seam stops in dot {name!r}: the cloth does not turn there")
    turned = after(motion, back(work.over))
    work.upper = [patch.carried(turned) for patch in work.upper]
    for slot in work.upper_slots:
        work.frames[slot] = after(turned, work.frames[slot])
    work.over, work.laid = motion, new
    work.named = work.named | new.names
    work.leg += 1


# --- opening and closing -----------------------------------------------------------------------------------------


def open_up(making, stack, press, into):
    work = making.take(stack, Stack)
    paths = work.paths
    if press in ("spun-lower", "spun-upper"):
        laid = work.laid
        if not isinstance(laid, Laying) or not laid.body.get("meets") or work.leg or any("at" in path.stops for path in paths):
            raise Refused("only a whole seam laid by its edges, with joints that meet, can be spun")
    else:
        pressed(press)
    if paths and isinstance(work.laid, Pinned):
        making.live[into] = open_curve(making, work, into)
        return
    if [path.leg for path in paths] != list(range(work.leg + 1)) and (work.leg or len(paths) != 1):
        raise Refused(f"a stack is opened on one line of stitches for each leg; this one has {len(paths)}")
    if any(path.body == 0 for path in paths):
        raise Refused("nothing tells which side of the stitches is folded under")
    if work.leg and any(path.kind != "beside" for path in paths):
        raise Refused("a leg is not sewn beside its edges")
    first = paths[0]
    mirror = over_line(first.line)
    for path in paths[1:]:
        same = after(mirror, after(first.over, back(path.over)))
        off = max(abs(go(same, place) - place) for place in (path.line.place(path.start), path.line.place(path.end)))
        if off > TOLERANCE:
            raise Refused(f"turned over a further leg the upper layer would lie {show(off)} elsewhere")
    square, end = None, [i for i, stop in enumerate(first.stops) if stop == "at"]
    if end:
        # The sewn side of the line through the stop lies on its left.
        stop = first.line.place(first.end if end[0] else first.start)
        square = Line(stop, first.line.way * (1j if end[0] else -1j))
    below, above, lies = work.lower, work.upper, work.over
    for path in paths:
        below = folded(below, path, square)
        moved = after(path.over, back(lies))
        above = folded([patch.carried(moved) for patch in above], path, square)
        lies = path.over
    opened = after(mirror, after(first.over, back(lies)))
    above = [patch.carried(opened) for patch in above]
    for path in paths:
        if path.joined is not None:
            for patch in above:
                if patch.face == path.joined[1]:
                    patch.face = path.joined[0]
    opened = after(mirror, after(first.over, back(work.over)))
    frames = {slot: after(opened, motion) if slot in work.upper_slots else motion for slot, motion in work.frames.items()}
    frames[making.fresh(into)] = STAY
    seams, begun, stops = dict(work.seams), dict(work.begun), list(work.stops)
    for number, path in enumerate(paths):
        ends = path.line.place(path.start), path.line.place(path.end)
        seams[(into, number)] = (into, *ends)
        stops += [(into, place) for place, stop in zip(ends, path.stops) if stop == "dot"]
    if end:
        stop, other = (first.end, first.start) if end[0] else (first.start, first.end)
        loose = frozenset(work.upper_keys)
        begun[(into, 0)] = Begun(into, first.line, other, stop, ENDS[end[0]], frozenset(first.loses), loose)
    making.live[into] = Work(below + above, frames, seams, work.bearers, work.spent | work.named, stops, begun)


def pressed(press):
    if press not in ("toward-lower", "toward-upper", "open"):
        raise Refused(f"cannot press {press!r}")


def close(making, work, seam, press, into, **body):
    whole = making.take(work, Work)
    pressed(press)
    name = (seam["of"], seam["seam"])
    if name not in whole.begun:
        raise Refused(f"seam {name[1]} of slot {name[0]} is not begun on this work")
    closing = Closing(whole, making, body, name)
    closing.result()
    begun, line = closing.begun, closing.path
    below = Stretch(closing.patches("a"), line, closing.lower_keys, "lower layer")
    above = Stretch([p.carried(closing.mirror) for p in closing.patches("b")], line, closing.upper_keys, "upper layer")
    at_stop = ((begun.stop, begun.stop), (begun.stop, begun.stop))
    stops = [closing.stops if begun.end == end else at_stop for end in ENDS]
    ends = path_ends(stops, below, above)
    kinds = ["raw" if begun.end == end else "at" for end in ENDS]
    sewn_over(below, above, ends, stops, making.seam, kinds)
    folds = {key: -1 for key in above.keys | (begun.keys & begun.loose)}
    folds |= {key: +1 for key in below.keys | (begun.keys - begun.loose)}
    runs = closing.lower_keys | closing.upper_keys | begun.keys
    for side in (+1, -1):
        keys = {key for key, body in folds.items() if body == side}
        path = Path(line, *ends, side, keys, None)
        path = replace(path, edges=frozenset(closing.names), of_run=frozenset(runs), tip=4 * making.seam)
        whole.patches = folded(whole.patches, path)
    whole.patches = made_one(whole.patches, set(begun.keys))
    low, high = (begun.start, ends[1]) if begun.end == "last" else (ends[0], begun.start)
    whole.frames[making.fresh(into)] = STAY
    whole.seams = {key: ends for key, ends in whole.seams.items() if key != name}
    whole.seams[(into, 0)] = (into, line.place(low), line.place(high))
    whole.begun = {key: other for key, other in whole.begun.items() if key != name}
    whole.spent = whole.spent | closing.names
    making.live[into] = whole

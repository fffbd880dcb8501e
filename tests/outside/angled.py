"""A cut along a ruler's line at an angle: whether it lies as the ruler would make it."""

import math

from plane import UNITS, Refused, show, units

COTANGENTS = {"30": math.sqrt(3), "45": 1.0, "60": 1 / math.sqrt(3), "67.5": math.sqrt(2) - 1}
NEAR = UNITS / 1000  # what the page calls within 1/1000 in


def along_ruler(ruler, corners, where, kept):
    """Refuses a cut that does not lie at the ruler's angle, or not parallel to the last cut and `across` from it.

    Where it gives a piece (it is `kept`) something must say how far on it lies.
    `corners` is the cloth between the two cuts: foot of the last cut, foot and head of this one, head of the last one.
    """
    (foot, _), (new_foot, _), (new_head, height), (head, _) = corners
    angle = ruler["angle"]
    cotangent = COTANGENTS.get(angle) if isinstance(angle, str) else None
    if cotangent is None:
        raise Refused(f"no ruler has a line at {angle!r} degrees", where)
    lean, wanted = new_head - new_foot, height * cotangent
    if abs(abs(lean) - wanted) > NEAR:
        raise Refused(
            f"a cut at {angle} degrees has its ends {show(wanted / UNITS)} apart along the strip, "
            f"this one {show(abs(lean) / UNITS)}",
            where,
        )
    if ruler.get("across") is None:
        beyond = min(new_foot - foot, new_head - head)
        if kept and angle != "67.5" and abs(beyond) > NEAR:
            raise Refused(
                f"begins {show(beyond / UNITS)} beyond where the last cut meets the edge, and nothing says how far", where
            )
        return
    across = units(ruler["across"])
    if across <= 0:
        raise Refused("the measure across is not more than nothing", where)
    if abs((head - foot) - lean) > NEAR:
        raise Refused("is measured across from the last cut, but not parallel to it", where)
    if new_foot - foot != new_head - head:
        raise Refused("is measured across, but its two ends are not equally far on", where)
    # Square to the last cut, from either end of this one.
    square = height / math.hypot(head - foot, height)
    for moved in (new_foot - foot, new_head - head):
        if abs(moved * square - across) > NEAR:
            raise Refused(
                f"lies {show(moved * square / UNITS)} across from the last cut, not {show(across / UNITS)}", where
            )

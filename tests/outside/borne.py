"""What a piece of cloth bears with it: the dots and the line of its template, pieces stitched down on it, a card."""

from dataclasses import dataclass, replace

from plane import go


@dataclass(frozen=True)
class Layer:
    """A piece stitched down, by its finished outline; what shows of it lies on what is left of its carrier."""

    label: str
    cloth: str
    up: complex
    corners: tuple
    face: object  # one for the whole piece, however many carry it

    def carried(self, motion):
        turn, _, over = motion
        up = turn * (self.up.conjugate() if over else self.up)
        return replace(self, up=up, corners=tuple(go(motion, corner) for corner in self.corners))


@dataclass(frozen=True)
class Borne:
    """Marks, layers from below up, and a card; all in the frame of the patch."""

    marks: tuple = ()
    layers: tuple = ()
    card: object = None  # the card it is basted over
    line: tuple | None = None  # the finished outline of a piece to be laid on a ground

    def carried(self, motion):
        marks = tuple(go(motion, mark) for mark in self.marks)
        card = self.card and self.card.carried(motion)
        line = self.line and tuple(go(motion, corner) for corner in self.line)
        return Borne(marks, tuple(layer.carried(motion) for layer in self.layers), card, line)

    def owned(self, owner):
        """The same, its layers faces of the owner's own."""
        return replace(self, layers=tuple(replace(layer, face=(owner, layer.face)) for layer in self.layers))

    def under(self, layer):
        return replace(self, layers=(*self.layers, layer))

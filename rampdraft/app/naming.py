"""What is under the pointer, in words: a member with its part and cut-list row, or a dimension with its value."""

from rampdraft.app import format
from rampdraft.app.document import Document
from rampdraft.errors import DesignError
from rampdraft.model.dimension import Dim
from rampdraft.model.edits import value_at
from rampdraft.model.fields import GROUP_LABELS, fields_of


class Naming:
    """Names the keys that the drawing carries, by the document's last good evaluation."""

    def __init__(self, document: Document) -> None:
        self._document = document

    def words(self, key: str) -> str:
        """Return the name of a member or a dimension; empty for neither."""
        if not key or self._document.evaluation is None:
            return ""
        return self._member(key) or self._dimension(key)

    def is_field(self, key: str) -> bool:
        """Return whether a key is the path of a value of the design."""
        try:
            return self._document.design is not None and value_at(self._document.design, key) is not None
        except DesignError:
            return False

    def _member(self, key: str) -> str:
        evaluation = self._document.evaluation
        assert evaluation is not None
        member = next((member for member in evaluation.assembly.members if member.key == key), None)
        if member is None:
            return ""
        part = next((part for part in evaluation.parts if key in part.members), None)
        piece = member.piece
        said = [key.capitalize(), piece.section.text, piece.material, f"{format.number(piece.length_mm, 1)} mm"]
        if part is not None:
            said.insert(1, f"part {part.number}, {part.quantity} of them")
        return "   ".join(said)

    def _dimension(self, path: str) -> str:
        if not self.is_field(path):
            return ""
        group, _, name = path.rpartition(".")
        owner = value_at(self._document.design, group) if self._document.design is not None and group else None
        info = next((info for info in fields_of(type(owner)) if info.name == name), None)
        if info is None or not isinstance(info.record, Dim):
            return ""
        value = format.text_of(info, getattr(owner, name))
        unit = format.unit_text(info.record.unit)
        label = f"{GROUP_LABELS.get(group, group)} {info.record.label[0].lower()}{info.record.label[1:]}"
        return f"{label}: {value} {unit}".rstrip() + ".   Click to change it."

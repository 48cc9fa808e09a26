"""What is under the pointer, in words: a member with its part and cut-list row, or a dimension with its
value.
"""

from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.model.fields.paths import info_of, label_of, value_at
from rampdraft.model.fields.record import Dim


class Naming:
    """Names the keys that the drawing carries, by the document's last good evaluation."""

    def __init__(self, document: Document) -> None:
        self._document = document

    def words(self, key: str) -> str:
        """Return the name of a member or a dimension; empty for neither."""
        return self._dimension(key) if self.is_field(key) else self._member(key)

    def is_field(self, key: str) -> bool:
        """Return whether a key is the path of a dimension of the design."""
        info = info_of(key)
        return info is not None and isinstance(info.record, Dim)

    def _member(self, key: str) -> str:
        evaluation = self._document.evaluation
        member = (
            next((one for one in evaluation.assembly.members if one.key == key), None)
            if evaluation is not None
            else None
        )
        if member is None or evaluation is None:
            return ""
        part = next((part for part in evaluation.parts if key in part.members), None)
        piece = member.piece
        said = [
            key.capitalize(),
            piece.section.text,
            piece.material,
            f"{format.number(round(piece.length_mm, 1))} mm",
        ]
        if part is not None:
            said.insert(1, f"part {part.number}, {part.quantity} of them")
        return "   ".join(said)

    def _dimension(self, path: str) -> str:
        info = info_of(path)
        if info is None or not isinstance(info.record, Dim) or self._document.design is None:
            return ""
        value = format.text_of(info, value_at(self._document.design, path))
        return (
            f"{label_of(path)}: {value} {format.unit_text(info.record.unit)}".rstrip()
            + ".   Click to change it."
        )

"""What is under the pointer, in words: a member with its part and cut-list row, or a dimension with its
value.
"""

from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.form.usual import usual_of
from rampdraft.drawing.grips.grip import field_of
from rampdraft.model.fields.paths import info_of, label_of, value_at
from rampdraft.model.fields.record import Dim, SectionChoice
from rampdraft.shop.spoken import spoken
from rampdraft.words.figures import mm
from rampdraft.words.say import named, say


def is_field(key: str) -> bool:
    """Return whether a key is the path of a dimension or a section of the design."""
    info = info_of(key)
    return info is not None and isinstance(info.record, Dim | SectionChoice)


def words_of(key: str, document: Document) -> str:
    """Return the name of a member or a dimension that a drawing carries; empty for neither."""
    key = field_of(key)
    info = info_of(key)
    if info is None or not is_field(key) or document.design is None:
        return _member(key, document)
    value, usual = value_at(document.design, key), usual_of(document.design, key)
    if usual is not None and not value:
        return say("{name}: {words}.   Click to change it.", name=label_of(key), words=usual.words)
    return say(
        "{name}: {words}.   Click to change it.", name=label_of(key), words=format.value_with_unit(key, value)
    )


def _member(key: str, document: Document) -> str:
    evaluation = document.evaluation
    members = evaluation.assembly.members if evaluation is not None else ()
    member = next((one for one in members if one.key == key), None)
    if member is None or evaluation is None:
        return ""
    piece = member.piece
    length = mm(piece.length_mm)
    parts = (part for part in evaluation.parts if key in part.members)
    said = (
        say("part {number}, {quantity} of them", number=part.number, quantity=part.quantity) for part in parts
    )
    return "   ".join(
        (
            _headed(named(key)),
            *said,
            say("called: {name}", name=spoken(member)),
            piece.section.text,
            piece.material,
            length,
        )
    )


def _headed(name: str) -> str:
    return name[:1].upper() + name[1:]

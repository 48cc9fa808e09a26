"""In which language people are told things, and lengths in which unit: chosen by menu, remembered."""

from typing import Final, Literal, get_args

from PySide6.QtCore import QLibraryInfo, QLocale, QTranslator
from PySide6.QtWidgets import QApplication

from rampdraft.app.shell import settings
from rampdraft.words.manner import LENGTHS, Language, Lengths, manner, manner_of, speak

Tongue = Literal["system", "en", "de"]

TONGUES: Final[tuple[Tongue, ...]] = get_args(Tongue)
NAMES: Final[dict[Tongue, str]] = {"system": "As the &system", "en": "&English", "de": "&Deutsch"}
"""A language goes by its own name, whichever is spoken."""
UNITS: Final[dict[Lengths, str]] = {"mm": "&Millimetres", "in": "&Inches"}
_TONGUES: Final[dict[str, Tongue]] = {one: one for one in TONGUES}
_LENGTHS: Final[dict[str, Lengths]] = {one: one for one in LENGTHS}
_OWN_LOCALE: Final = "rampdraft_own_locale"
_LOCALES: Final = {"en": QLocale.Language.English, "de": QLocale.Language.German}


def tongue() -> Tongue:
    """Return which language is chosen; that of the system where none is."""
    return _TONGUES.get(settings.language(), "system")


def lengths() -> Lengths:
    """Return the unit of length that is chosen."""
    return _LENGTHS.get(settings.lengths(), "mm")


def choose_tongue(wanted: Tongue) -> bool:
    """Choose a language; return whether people are told things otherwise from now on."""
    settings.remember_language(wanted)
    return begin()


def choose_lengths(wanted: Lengths) -> bool:
    """Choose a unit of length; return whether people are told things otherwise from now on."""
    settings.remember_lengths(wanted)
    return begin()


def begin() -> bool:
    """Speak as is chosen; return whether that is otherwise than before.

    Numbers are written as the system writes them where it speaks the language, and in English, which people
    choose whose system speaks another.
    """
    own, before = _own_locale(), manner()
    chosen = tongue()
    language: Language = chosen if chosen != "system" else _spoken_by(own)
    kept = language == "en" or own.language() == _LOCALES[language]
    locale = own if kept else QLocale(_LOCALES[language])
    locale.setNumberOptions(QLocale.NumberOption.OmitGroupSeparator)
    QLocale.setDefault(locale)
    speak(manner_of(language, lengths(), locale.decimalPoint()))
    if manner().language != before.language:
        _translate(language)
    return manner() != before


def _spoken_by(locale: QLocale) -> Language:
    return "de" if locale.language() == QLocale.Language.German else "en"


def _own_locale() -> QLocale:
    """Return the locale that the program was begun with."""
    app = QApplication.instance()
    own = app.property(_OWN_LOCALE) if app is not None else None
    if not isinstance(own, QLocale):
        own = QLocale()
        if app is not None:
            app.setProperty(_OWN_LOCALE, own)
    return QLocale(own)


def _translate(language: Language) -> None:
    """Have Qt's own words, as on the buttons of its dialogs, in a language; it speaks English by itself."""
    app = QApplication.instance()
    if app is None:
        return
    for one in app.findChildren(QTranslator):
        app.removeTranslator(one)
        one.deleteLater()
    translator, folder = QTranslator(app), QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if language != "en" and translator.load(f"qtbase_{language}", folder):
        app.installTranslator(translator)

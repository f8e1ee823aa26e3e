"""Drawings in SVG: read, freed of what no drawing needs, and refused where they would do more than draw.

A published drawing can be opened by itself, without the policy of the pages round it. So nothing goes into
it that could run, fetch or lead elsewhere: elements are those of a list, and the file is written anew.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final, NamedTuple, NoReturn
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

from tertial.sketches.unreadable import Unreadable

_SVG: Final = "http://www.w3.org/2000/svg"
_XLINK: Final = "http://www.w3.org/1999/xlink"
_XHTML: Final = "http://www.w3.org/1999/xhtml"
_XML: Final = "http://www.w3.org/XML/1998/namespace"

# Names of SVG 2 (W3C), less those of all that runs, moves, links or fetches.
_ELEMENTS: Final = frozenset((Path(__file__).parent / "data" / "svg-elements.csv").read_text("utf-8").split()[1:])
# Words that are not drawn: whoever looks at the drawing has not seen them, and does not know that they are there.
_DROPPED: Final = frozenset({"metadata", "title", "desc"})
_UNDRAWN: Final = ("data-", "aria-")

# CSS Values 4, 6.2: absolute lengths in pixels.
_UNITS: Final = {"": 1.0, "px": 1.0, "pt": 4 / 3, "pc": 16.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "in": 96.0}
_NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"\s*({_NUMBER})(px|pt|pc|mm|cm|in|)\s*")
_BOX = re.compile(rf"\s*{_NUMBER}(?:[\s,]+{_NUMBER}){{3}}\s*")
_FETCH = re.compile(r"url\(\s*(?!['\"]?\s*#)|@|image\s*\(|image-set\s*\(|src\s*\(|\\|/\*", re.IGNORECASE)
_LONGEST: Final = 100_000
_DEEPEST: Final = 200


class Drawing(NamedTuple):
    """A drawing as it is published."""

    data: bytes
    """The file, written anew."""

    width: float
    """Width in pixels of CSS."""

    height: float
    """Height in pixels."""


class _RefusedError(Exception):
    """Ends the reading; its text says what was found."""


def read_svg(data: bytes) -> Drawing | Unreadable:
    """Read a drawing and write it anew, without editors' data and comments.

    :returns: the drawing, or what in it is refused: scripts, event handlers, foreign objects, pictures
        inside, outside references, styles that fetch, and declarations of a document type.
    """
    reader = _Reader()
    try:
        reader.parser.Parse(data, True)
    except _RefusedError as refused:
        return Unreadable(f"the drawing has {refused}; shapes and text alone were expected")
    except (expat.ExpatError, ValueError, LookupError) as fault:
        return Unreadable(f"the drawing is damaged ({fault}); a whole SVG file was expected")
    if reader.size is None:
        return Unreadable(
            "the file is XML, but no SVG drawing of a known size; width and height or viewBox was expected"
        )
    return Drawing("".join(reader.out).encode("utf-8"), *reader.size)


class _Reader:
    """Hears what the parser finds, and writes what may stay."""

    def __init__(self) -> None:
        self.out: list[str] = []
        self.size: tuple[float, float] | None = None
        self._open: list[str] = []
        self._skipped = 0
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.buffer_text = True
        parser.StartDoctypeDeclHandler = self._doctype
        parser.ProcessingInstructionHandler = self._instruction
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._text
        self.parser = parser

    def _doctype(self, *_: object) -> NoReturn:
        msg = "a document type declaration, which could declare entities"
        raise _RefusedError(msg)

    def _instruction(self, target: str, _: str) -> None:
        if target.lower() != "xml":
            msg = f"a processing instruction {target!r}"
            raise _RefusedError(msg)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        if self._skipped or not (space in (_SVG, "", _XHTML) or local.lower() == "script"):
            self._skipped += 1
            return
        if space == _SVG and local in _DROPPED:
            self._skipped += 1
            return
        if space != _SVG or local not in _ELEMENTS:
            msg = f"an element {local!r}"
            raise _RefusedError(msg)
        if len(self._open) >= _DEEPEST:
            msg = f"more than {_DEEPEST} elements inside each other"
            raise _RefusedError(msg)
        kept = dict(_attribute(key, value) for key, value in attributes.items() if _is_kept(key))
        if not self._open:
            if local != "svg":
                msg = f"an element {local!r} at its root"
                raise _RefusedError(msg)
            self.size, kept = _sized(kept)
            kept = {"xmlns": _SVG, "xmlns:xlink": _XLINK, **kept}
        self._open.append(local)
        self.out.append(f"<{local}{''.join(f' {key}={quoteattr(value)}' for key, value in kept.items())}>")

    def _end(self, _: str) -> None:
        if self._skipped:
            self._skipped -= 1
        else:
            self.out.append(f"</{self._open.pop()}>")

    def _text(self, text: str) -> None:
        if self._skipped or not self._open:
            return
        if self._open[-1] == "style" and (found := _FETCH.search(text)):
            msg = f"a style with {found.group()!r}, which could fetch something"
            raise _RefusedError(msg)
        self.out.append(escape(text))


def _is_kept(key: str) -> bool:
    """Tell whether an attribute is one of drawing, not of an editor's."""
    space, _, local = key.rpartition(" ")
    if local.lower().startswith(_UNDRAWN):
        return False
    return space in ("", _XLINK, _SVG) or local.lower().startswith("on") or key in (f"{_XML} base", f"{_XML} space")


def _attribute(key: str, value: str) -> tuple[str, str]:
    """Give name and value of an attribute that may stay."""
    space, _, local = key.rpartition(" ")
    msg = ""
    if local.lower().startswith("on"):
        msg = f"an event handler {local!r}"
    elif local == "base" and space == _XML:
        msg = "an outside address 'xml:base'"
    elif (local == "href" or space == _XLINK) and local in ("href", "role", "arcrole") and not value.startswith("#"):
        msg = f"a reference to {value[:40]!r}"
    elif local == "src" or "script:" in value.lower():
        msg = f"an attribute {local!r} with {value[:40]!r}"
    elif found := _FETCH.search(value):
        msg = f"an attribute {local!r} with {found.group()!r}, which could fetch something"
    if msg:
        raise _RefusedError(msg)
    return {_XLINK: "xlink:", _XML: "xml:"}.get(space, "") + local, value


def _sized(attributes: dict[str, str]) -> tuple[tuple[float, float] | None, dict[str, str]]:
    """Give the size of the root in pixels, and its attributes with width, height and viewBox."""
    box = attributes.get("viewBox", "")
    numbers = [float(number) for number in re.findall(_NUMBER, box)] if _BOX.fullmatch(box) else []
    found = [_LENGTH.fullmatch(attributes.get(side, "")) for side in ("width", "height")]
    sides = [float(each[1]) * _UNITS[each[2]] if each else 0.0 for each in found]
    if not numbers and all(sides):
        numbers = [0.0, 0.0, *sides]
    if len(numbers) != 4:
        return None, attributes
    if not all(sides):
        # A side that is missing, or in per cent of a page, follows the box.
        ratio = sides[0] / numbers[2] if sides[0] and numbers[2] else sides[1] / numbers[3] if sides[1] else 1.0
        sides = [numbers[2] * ratio, numbers[3] * ratio]
    if not all(1 <= side <= _LONGEST for side in sides) or not all(side > 0 for side in numbers[2:]):
        return None, attributes
    texts = {"viewBox": " ".join(f"{number:g}" for number in numbers)}
    texts |= {"width": f"{sides[0]:g}", "height": f"{sides[1]:g}"}
    return (sides[0], sides[1]), {**attributes, **texts}

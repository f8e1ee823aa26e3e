"""What the YAML parsers say of a fault, in words for a person, and which line they mean."""

from __future__ import annotations

# What the two parsers say, beside what a person needs to hear: (their words, the fault, what was expected).
_FAULTS: tuple[tuple[str, str, str], ...] = (
    ("tab character", "a tab stands in the indentation", "blanks were expected"),
    ("mapping values are not allowed", "a second ': ' stands where one value was expected", "quotes, or a literal"),
    ("sequence entries are not allowed", "a list begins behind its key", "the list on the lines below, or quotes"),
    ("could not find expected ':'", "the line has no ': '", "a key and a value were expected"),
    ("unexpected end of stream", "the quote that opens here is never closed", "a closing quote was expected"),
    ("unexpected document", "the quote that opens here is never closed", "a closing quote was expected"),
    ("',' or ']'", "the list that opens here is never closed", "a ] was expected"),
    ("',' or '}'", "the braces that open here are never closed", "a } was expected"),
    ("cannot start any token", "a value cannot begin with this character", "the value in quotes was expected"),
    ("node content", "a value cannot begin with this character", "the value in quotes was expected"),
    ("mapping keys are not allowed", "a value cannot begin with this character", "the value in quotes was expected"),
    ("block scalar", "words stand behind the sign for a literal", "the phrases on the lines below, or quotes"),
    ("block mapping", "the line does not fit what stands before it", "a key was expected"),
    ("<document start>", "the line does not fit what stands before it", "a key was expected"),
    ("...", "three dots end the front matter here", "a key was expected"),
    ("block collection", "the line does not fit the list before it", "another item, or less indentation"),
    ("alphabetic or numeric", "a * or & stands where YAML expects the name of an anchor", "quotes were expected"),
    ("escape", "the quoted text holds a backslash that YAML does not know", "single quotes were expected"),
    ("hexdecimal", "the quoted text holds a backslash that YAML does not know", "single quotes were expected"),
    ("tag", "a value cannot begin with this character", "the value in quotes was expected"),
)
_OTHER = ("YAML cannot read this line", "a key, a colon, a blank and a value were expected")

# The context whose start, rather than the spot where the reader gave up, is where the fault lies.
_STARTS_AT_CONTEXT = ("simple key", "quoted scalar", "flow", "anchor", "alias", "tag")


def explain(context: str, problem: str) -> tuple[str, str]:
    """Put the parser's words into ours: what is wrong, and what was expected."""
    for words, fault, expected in _FAULTS:
        if words in problem or words in context:
            return fault, expected
    return _OTHER


def faulty_offset(context: str, context_index: int | None, problem_index: int | None) -> int:
    """Choose the offset of the line at fault from the two that the parser gives."""
    if context_index is not None and any(word in context for word in _STARTS_AT_CONTEXT):
        return context_index
    return problem_index if problem_index is not None else context_index or 0

"""What a beginner is asked of a part: a question for every respect that phrases are read for."""

from __future__ import annotations

from tertial.marks.meaning import load_questions, question_of
from tertial.marks.statements import Aspect, Key
from tertial.marks.words import load_words


def test_every_facet_has_its_question_and_every_question_its_facet() -> None:
    """A facet without one would be asked for by a word of the trade, such as tempo."""
    facets = {(aspect.value, term.facet) for (aspect, _), term in load_words().lists.terms.items()}
    whole = {(aspect.value, "") for aspect in Aspect}
    assert set(load_questions()) == facets | whole | {("colour", "wash")}
    assert all(question.endswith("?") for question in load_questions().values())


def test_a_question_is_of_the_facet_and_names_the_place() -> None:
    """Without a facet the aspect as a whole is asked for."""
    assert question_of(Key(Aspect.SOUND, "", "tempo")) == "fast or slow?"
    assert question_of(Key(Aspect.COLOUR, "tip", "colour")) == "what colour? (tip)"
    assert question_of(Key(Aspect.SHAPE)) == "what shape?"

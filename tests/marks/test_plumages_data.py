"""The shipped table of plumage words holds together."""

from __future__ import annotations

from tertial.marks.folding import fold
from tertial.marks.plumage_words import load_plumage_words
from tertial.marks.plumages import near_plumages, read_plumage

WORDS = load_plumage_words()


def test_every_word_is_listed_once() -> None:
    """Words and synonyms are all different, and no hint is accepted by another row."""
    texts = [fold(text) for word in WORDS.words for text in (word.word, *word.synonyms)]
    assert len(texts) == len(set(texts)) > 80
    assert not set(texts) & set(WORDS.hinted)


def test_every_hint_is_refused_and_answered() -> None:
    """A short word is never read, and each plumage it may have meant is offered."""
    assert len(WORDS.hinted) > 40
    for hint, words in WORDS.hinted.items():
        assert read_plumage(hint) is None, hint
        offers = {read_plumage(offer) for offer in near_plumages(hint, limit=9)}
        for word in words:
            if meant := read_plumage(word.word):
                assert meant in offers, (hint, word.word)


def test_meanings_are_sentences_of_their_own() -> None:
    """Each word has one sentence, and no two are equal."""
    meanings = [word.meaning for word in WORDS.words]
    assert len(set(meanings)) == len(meanings)
    assert all(meaning[0].isupper() and meaning.endswith(".") and len(meaning.split()) <= 25 for meaning in meanings)


def test_columns_hold_listed_values_only() -> None:
    """Sources are known, and what a word stands for is an age of the table."""
    assert {key for word in WORDS.words for key in word.sources} == {"P1", "P2", "M"}
    assert {word.implies for word in WORDS.words} == {"", "adult"}
    assert set(WORDS.ranks.sex) == {"", "male", "female"}
    assert set(WORDS.ranks.season) == {
        *("", "breeding", "nonbreeding", "eclipse"),
        *("basic", "alternate", "supplemental", "formative"),
    }


def test_all_stands_first_and_settles_nothing() -> None:
    """The display order rests on the first row, and no other row is as open."""
    assert WORDS.words[0].word == "all"
    assert [word.word for word in WORDS.words if not any(word.facets)] == ["all"]

"""How the words of a language are put together, against the Unicode locale data (CLDR) through Babel."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest
from babel.dates import format_date
from babel.numbers import format_decimal

from tertial.layouts import built_in_layouts
from tertial.marks.plumages import read_plumage
from tertial.wording import PLAIN, Wording
from tertial.wording.tables import read_wording

if TYPE_CHECKING:
    from pathlib import Path

DAYS = [dt.date(2026, month, day) for month in range(1, 13) for day in (1, 2, 21, 28)]


@pytest.mark.parametrize("date", DAYS)
def test_days_are_written_as_the_locale_data_have_them(date: dt.date, french: Wording) -> None:
    """Long dates of CLDR; of the first of a month, the ordinal that French writes and CLDR leaves out."""
    expected = format_date(date, "d MMMM y", locale="fr")
    assert french.day(date) == (expected.replace("1 ", "1er ", 1) if date.day == 1 else expected)
    assert PLAIN.day(date) == format_date(date, "d MMMM y", locale="en")


@pytest.mark.parametrize("number", ["0.5", "7", "22.4", "950", "1234", "1234.5", "11131", "2000000.25"])
def test_numbers_are_written_as_the_locale_data_have_them(number: str, french: Wording) -> None:
    """Decimal mark and groups of CLDR; English has no groups, because it keeps what its author wrote."""
    assert french.numbers(number) == format_decimal(number, "#,##0.###", locale="fr")
    assert PLAIN.numbers(number) == format_decimal(number, "0.###", locale="en") == number


@pytest.mark.parametrize(
    ("number", "said"), [(0, "0 minute"), (1, "1 minute"), (1.5, "1,5 minute"), (2, "2 minutes"), (90, "90 minutes")]
)
def test_french_has_its_plural_from_two(number: float, said: str, french: Wording) -> None:
    """The rule of CLDR for French: 0 and 1 with their fractions are one, all else is several."""
    assert french.count("%(num)s minute", "%(num)s minutes", number) == said


@pytest.mark.parametrize(("number", "said"), [(0, "0 minutes"), (1, "1 minute"), (1.5, "1.5 minutes")])
def test_english_has_its_singular_for_one_alone(number: float, said: str) -> None:
    """The rule of CLDR for English."""
    assert PLAIN.count("%(num)s minute", "%(num)s minutes", number) == said


@pytest.mark.parametrize(
    ("part", "said"),
    [
        ("bill", "la longueur du bec"),
        ("nape", "la longueur de la nuque"),
        ("wing", "la longueur de l\N{RIGHT SINGLE QUOTATION MARK}aile"),
        ("legs", "la longueur des pattes"),
        ("whatsit", "la longueur de whatsit"),
    ],
)
def test_articles_join_what_stands_before_them(part: str, said: str, french: Wording) -> None:
    """French contracts de and an article."""
    assert french.say("the length of the %(part)s", part=french.part_said(part)) == said


@pytest.mark.parametrize(
    ("plumage", "one", "several"),
    [
        ("all", "tous plumages", "tous les oiseaux"),
        ("male", "mâle", "mâles"),
        ("juvenile female", "femelle juvénile", "femelles juvéniles"),
        ("first-winter", "premier hiver", "oiseaux de premier hiver"),
        ("first-winter male", "mâle de premier hiver", "mâles de premier hiver"),
        ("breeding male", "mâle en plumage nuptial", "mâles en plumage nuptial"),
        ("dark morph juvenile", "juvénile de forme sombre", "juvéniles de forme sombre"),
    ],
)
def test_plumages_are_put_together_in_the_order_of_the_language(
    plumage: str, one: str, several: str, french: Wording
) -> None:
    """The sex leads in French, and every word behind it takes the form that fits."""
    read = read_plumage(plumage)
    assert read is not None
    assert (french.plumage(read.words), french.birds(read.words)) == (one, several)
    assert PLAIN.plumage(read.words) == plumage


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        (range(1, 13), "toute l\N{RIGHT SINGLE QUOTATION MARK}année"),
        ((4,), "avril"),
        ((4, 5, 6), "avril à juin"),
        ((1, 2, 11, 12), "novembre à février"),
        ((3, 4, 9, 10, 12), "mars à avril, septembre à octobre, décembre"),
    ],
)
def test_months_are_told_by_their_runs(numbers: tuple[int, ...], said: str, french: Wording) -> None:
    """A run may lead past the end of the year."""
    assert french.months(tuple(numbers)) == said


def test_names_are_sorted_without_regard_to_accents(french: Wording) -> None:
    """An accent decides only between names that are spelt alike without it."""
    names = ["Étourneau", "zone", "Pic", "Épervier", "etourneau", "Œil"]
    assert sorted(names, key=french.order) == ["Épervier", "etourneau", "Étourneau", "Œil", "Pic", "zone"]


def test_an_author_can_add_a_language_or_change_a_row(tmp_path: Path) -> None:
    """Tables of the guide's own stand before those of the program, row by row."""
    for tag, rows in (("de", "Marks,Merkmale,\n"), ("fr", "Marks,Critères,\n"), ("en", "Marks,Field marks,\n")):
        table = tmp_path / "own" / "words" / tag / "phrases.csv"
        table.parent.mkdir(parents=True)
        table.write_text(f"phrase,said,several\n{rows}", encoding="utf-8")
    built_in = tmp_path / "built-in" / "words" / "fr"
    built_in.mkdir(parents=True)
    (built_in / "phrases.csv").write_text("phrase,said,several\nMarks,Caractères,\nVoice,Voix,\n", encoding="utf-8")
    folders = (tmp_path / "own", tmp_path / "built-in")
    told = {tag: read_wording(folders, tag) for tag in ("de", "fr", "fr-CA", "en-GB", "it")}
    assert {tag: each.say("Marks") for tag, each in told.items()} == {
        "de": "Merkmale",
        "fr": "Critères",
        "fr-CA": "Critères",
        "en-GB": "Field marks",
        "it": "Marks",
    }
    assert (told["fr-CA"].tag, told["fr-CA"].say("Voice"), told["it"].tag) == ("fr-CA", "Voix", "en")


@pytest.mark.parametrize(
    ("table", "line"),
    [
        ("phrase,said\nMarks,Merkmale\n", 1),
        ("", 1),
        ("phrase,said,several\nKept by %(author)s.,Von %(auhtor)s.,\n", 2),
        ("phrase,said,several\nVoice,Stimme,\nMarks,100 % Merkmale,\n", 3),
        ("phrase,said,several\nKept by %(author)s.,Von %(author)s %(num)s.,\n", 2),
    ],
)
def test_a_row_that_cannot_be_used_is_named_and_the_english_stands(tmp_path: Path, table: str, line: int) -> None:
    """A slip of an author's table stops no page."""
    path = tmp_path / "words" / "de" / "phrases.csv"
    path.parent.mkdir(parents=True)
    path.write_text(table, encoding="utf-8")
    wording = read_wording((tmp_path,), "de")
    assert [(fault.table, fault.line) for fault in wording.faults] == [("words/de/phrases.csv", line)]
    assert wording.say("Kept by %(author)s.", author="A") == "Kept by A."
    assert wording.say("Marks") == "Marks"


def test_contractions_are_wordings_and_no_patterns(tmp_path: Path) -> None:
    """Signs that mean something to a regular expression are signs here."""
    path = tmp_path / "words" / "de" / "rules.csv"
    path.parent.mkdir(parents=True)
    path.write_text("rule,value\ncontractions,an (dem=am\\1; in das=ins\n", encoding="utf-8")
    wording = read_wording((tmp_path,), "de")
    assert wording.contracted("an (dem Wehr, in das Rohr") == "am\\1 Wehr, ins Rohr"


@pytest.mark.parametrize(
    ("tag", "told"), [("fr", "fr_FR"), ("fr-CA", "fr_CA"), ("fr-ca", "fr_CA"), ("fr-Latn-BE", "fr_BE")]
)
def test_the_territory_of_the_tag_stands_before_that_of_the_rules(tag: str, told: str) -> None:
    """Open Graph protocol: a language and a territory. English has no rule, and stays untold."""
    assert read_wording((built_in_layouts(),), tag).locale == told
    assert PLAIN.locale == ""

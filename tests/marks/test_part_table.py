"""Looking a part up, by any spelling that an author may choose."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

import tertial.marks
from tertial.marks.folding import other_numbers
from tertial.marks.parts import Evidence, load_parts

if TYPE_CHECKING:
    from tertial.marks.parts import Part

TABLE = load_parts()


@pytest.mark.parametrize(
    ("written", "word"),
    [
        ("wingbar", "wing bar"),
        ("wing-bar", "wing bar"),
        ("Wing Bars", "wing bar"),
        ("wing‑bars", "wing bar"),
        ("tail-feathers", "rectrices"),
        ("eyering", "eye-ring"),
        ("EYE RING", "eye-ring"),
        ("undertail-coverts", "undertail coverts"),
        ("under-tail coverts", "undertail coverts"),
        ("upper parts", "upperparts"),
        ("  nape ", "nape"),
        ("naris", "nostril"),
        ("tibial_feathers", "thigh"),
        ("auricular", "ear coverts"),
        ("crissums", "undertail coverts"),
        ("epaulettes", "shoulder patch"),
        ("tertiary", "tertials"),
        ("side", "sides"),
        ("foot", "feet"),
    ],
)
def test_spellings_lead_to_the_preferred_word(written: str, word: str) -> None:
    """Case, spaces, hyphens of any kind, number and synonyms do not matter."""
    part = TABLE.find(written)
    assert part is not None
    assert part.word == word


@pytest.mark.parametrize("written", ["", "  ", "-", "nap", "nape!", "nape, crown", "tail coverts", "crown stripe"])
def test_other_words_lead_nowhere(written: str) -> None:
    """A word that is unknown, or that names two areas, is not stretched to fit."""
    assert TABLE.find(written) is None


def test_a_pair_is_not_one_of_its_halves() -> None:
    """Mandibles are the bill, though one mandible is the lower half: a written word comes first."""
    both, one = TABLE.find("mandibles"), TABLE.find("mandible")
    assert both is not None
    assert one is not None
    assert (both.word, one.word) == ("bill", "lower mandible")


@pytest.mark.parametrize(
    ("written", "first"),
    [
        ("superciliun", ["supercilium"]),
        ("aurculars", ["ear coverts"]),
        ("nape patch", ["nape"]),
        ("biil colour", ["bill"]),
        ("tail coverts", ["uppertail coverts", "undertail coverts"]),
        ("crown stripe", ["median crown stripe", "lateral crown stripe"]),
        ("tail band", ["terminal band", "subterminal band"]),
        ("the bill", ["bill"]),
        ("Its wing bras", ["wing bar"]),
    ],
)
def test_near_words_are_offered(written: str, first: list[str]) -> None:
    """A slip is answered with preferred words, the likeliest first."""
    assert list(TABLE.near(written)[: len(first)]) == first


@pytest.mark.parametrize("written", ["", "qqqq", "12"])
def test_nothing_is_offered_without_likeness(written: str) -> None:
    """Where nothing is near, no suggestion is better than a silly one."""
    assert TABLE.near(written) == ()


@given(st.text(max_size=30), st.integers(0, 5))
def test_offers_can_be_used(written: str, limit: int) -> None:
    """Whatever is asked, the offers are preferred words, different, and within the limit."""
    offers = TABLE.near(written, limit)
    assert len(offers) == len(set(offers)) <= limit
    for word in offers:
        part = TABLE.find(word)
        assert part is not None
        assert part.word == word


@given(st.sampled_from(TABLE.parts), st.data())
def test_every_word_of_a_part_leads_back_to_it(part: Part, data: st.DataObject) -> None:
    """Any listed word, in any case and with any joints, finds its own part."""
    word = data.draw(st.sampled_from(part.words))
    joint = data.draw(st.sampled_from(["", " ", "-", "  ", "–"]))
    change = data.draw(st.sampled_from([str.upper, str.lower, str.title, str.swapcase]))
    assert TABLE.find(change(joint.join(word.replace("-", " ").split()))) == part


def test_evidence_is_ordered_from_shape_to_colour() -> None:
    """Size comes before posture, posture before voice, voice before the bird's parts head to tail."""
    ordered = [part.word for part in sorted(TABLE, key=lambda part: part.evidence_order)]
    places = [ordered.index(word) for word in ("size", "posture", "call", "crown", "bill", "rump", "tail", "feet")]
    assert places == sorted(places)
    assert Evidence.SIZE_AND_SHAPE.label == "size and shape"


def test_own_words_lead_to_known_parts() -> None:
    """An author's word finds the part, shows among its words, and leaves the shipped table alone."""
    widened = TABLE.with_words({"lantern": "Rump", "bonnet": "pileum"})
    part = widened.table.find("lanterns")
    assert part is not None
    assert part.word == "rump"
    assert part.synonyms[-1] == "lantern"
    assert (widened.unknown, widened.taken) == ((), ())
    assert TABLE.find("lantern") is None
    assert len(widened.table) == len(TABLE)


def test_own_words_with_unknown_targets_come_back() -> None:
    """A target that no part bears is told, and the other words are added all the same."""
    widened = TABLE.with_words({"glow": "lantern", "lantern": "rump", " ": "rump"})
    assert widened.unknown == ("glow", " ")
    assert widened.table.find("glow") is None
    assert widened.table.find("lantern") is not None


def test_own_words_do_not_displace_known_ones() -> None:
    """A word that already leads elsewhere is told; one that leads to the same part is no matter."""
    widened = TABLE.with_words({"crown": "rump", "Pileum": "crown", "glow": "rump", "GLOW": "nape"})
    assert widened.taken == ("crown", "GLOW")
    assert widened.table.find("glow") == widened.table.find("rump")
    assert widened.table.find("crown") == TABLE.find("crown")


@pytest.mark.parametrize(
    ("word", "forms"),
    [
        ("bar", ("bars",)),
        ("bars", ("bar",)),
        ("patch", ("patches",)),
        ("patches", ("patche", "patch")),
        ("body", ("bodies", "bodys")),
        ("bodies", ("body", "bodie")),
        ("mass", ("masses",)),
    ],
)
def test_regular_numbers(word: str, forms: tuple[str, ...]) -> None:
    """Number forms follow the ending of the word."""
    assert other_numbers(word) == forms


def test_tables_load_out_of_an_archive(tmp_path: Path) -> None:
    """The lists are found where the program is not a folder of files."""
    package = Path(tertial.marks.__file__).parent
    archive = tmp_path / "program.zip"
    with zipfile.ZipFile(archive, "w") as packed:
        packed.writestr("tertial/__init__.py", "")
        for path in sorted(package.rglob("*")):
            if path.is_file() and path.suffix != ".pyc":
                packed.write(path, Path("tertial/marks") / path.relative_to(package))
    code = (
        f"import sys; sys.path.insert(0, {str(archive)!r})\n"
        "from tertial.marks import parts, plumages\n"
        "print(parts.__file__.count('.zip'), len(parts.load_parts()), plumages.ALL)"
    )
    done = subprocess.run([sys.executable, "-I", "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["1", str(len(TABLE)), "all"]

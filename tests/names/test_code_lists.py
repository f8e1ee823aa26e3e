"""The rules held against both lists of codes, bird by bird.

The rules are written here a second time and plainly, and the packed file is read without the
program, so that the lists judge the program and not the program itself.
"""

from __future__ import annotations

import csv
import gzip
import io
import re
import unicodedata
from collections import Counter, defaultdict
from pathlib import Path

import pytest

from tertial.names import birds
from tertial.names.alpha import explain_code, natural_code
from tertial.names.birds import SCHEMES, NameList, Scheme, load_names

PACKED = Path(birds.__file__).with_name("data") / "bird-names.csv.gz"
ROWS = list(csv.DictReader(io.StringIO(gzip.decompress(PACKED.read_bytes()).decode("utf-8"), newline="")))
EXCEPTIONS = Path(__file__).with_name("code-exceptions.csv")
COLUMNS = ("list", "english_name", "listed_name", "listed_code", "natural_code", "held_by")


def plain_rules(name: str) -> str:
    """Klimkiewicz and Robbins 1978, and four initials for five words, as the IBP list has them."""
    letters = unicodedata.normalize("NFD", name.upper().replace("/", "-"))
    spaced = "".join(sign for sign in letters if sign in " -ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    word = re.split("[ -]", spaced)
    if len(word) == 1:
        return word[0][:4]
    if len(word) == 2:
        return word[0][:2] + word[1][:2]
    if len(word) > 3:
        return "".join(part[0] for part in word[:4])
    if re.fullmatch("[A-Z]+ [A-Z]+-[A-Z]+", spaced):
        return word[0][:2] + word[1][0] + word[2][0]
    return word[0][0] + word[1][0] + word[2][:2]


def listed(scheme: Scheme, *, rank: str = "") -> list[dict[str, str]]:
    """Give the rows on a list with its name and code under plain keys, of one rank or of all."""
    key = scheme.lower()
    return [
        {**row, "name": row[f"name_{key}"], "code": row[f"code_{key}"]}
        for row in ROWS
        if row[f"code_{key}"] and rank in {"", row["rank"]}
    ]


def unique_species(scheme: Scheme) -> list[dict[str, str]]:
    """Give the species to which the rules give a code that no other species of the list gets."""
    rows = listed(scheme, rank="species")
    count = Counter(plain_rules(row["name"]) for row in rows)
    return [row for row in rows if count[plain_rules(row["name"])] == 1]


@pytest.mark.parametrize(("scheme", "species", "share"), [("IBP", 2201, 0.99), ("BBL", 1072, 0.97)])
def test_rules_give_the_listed_codes(scheme: Scheme, species: int, share: float) -> None:
    """Where nobody shares the code of the rules, the lists of 2024 (IBP) and 2025 (BBL) follow it."""
    assert len(listed(scheme, rank="species")) == species
    rows = unique_species(scheme)
    agreeing = sum(natural_code(row["name"]).code == row["code"] for row in rows)
    assert len(rows) > 900
    assert agreeing / len(rows) >= share


def test_exceptions_to_the_rules_are_known_one_by_one() -> None:
    """The species of the test above that do not agree are those of the committed file, no more, no less.

    The last column tells why, where the list itself does: another bird has the code.
    """
    found = []
    for scheme in SCHEMES:
        holders = {row["code"]: row["english_name"] for row in listed(scheme)}
        for row in unique_species(scheme):
            natural = natural_code(row["name"]).code
            if natural != row["code"]:
                held_by = holders.get(natural, "")
                found.append((scheme, row["english_name"], row["name"], row["code"], natural, held_by))
    with EXCEPTIONS.open(encoding="utf-8", newline="") as file:
        header, *committed = (tuple(row) for row in csv.reader(file))
    assert header == COLUMNS
    assert found == committed


@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_collision_in_a_list_is_seen(scheme: Scheme) -> None:
    """Sharers and holders are exactly those that counting through the whole list finds."""
    names = load_names()
    rows = listed(scheme)
    sharing = defaultdict(set)
    holding = {row["code"]: row["english_name"] for row in rows}
    for row in rows:
        sharing[plain_rules(row["name"])].add(row["english_name"])
    collisions = 0
    by_name = {bird.english: bird for bird in names if bird.listed_code(scheme)}
    assert len(by_name) == len(rows)
    for row in rows:
        own, natural = row["english_name"], plain_rules(row["name"])
        answer = explain_code(by_name[own], names).by(scheme)
        assert answer.listed == row["code"]
        assert answer.natural.code == natural
        assert {bird.english for bird in answer.sharers} == sharing[natural] - {own}
        held_by = holding.get(natural, own)
        assert (answer.holder.english if answer.holder else own) == held_by
        assert bool(answer.rivals) == (len(sharing[natural]) > 1 or held_by != own)
        collisions += bool(answer.rivals)
    assert collisions > 100


@pytest.mark.parametrize("scheme", SCHEMES)
def test_species_on_no_list_are_held_against_it(scheme: Scheme) -> None:
    """For birds without a code, the claimants on the list are counted too."""
    names = load_names()
    claims = defaultdict(set)
    for row in listed(scheme):
        claims[row["code"]].add(row["english_name"])
        claims[plain_rules(row["name"])].add(row["english_name"])
    unlisted = [bird for bird in names if bird.is_species and not bird.listed_code(scheme)]
    assert len(unlisted) > 8000
    for bird in unlisted:
        answer = explain_code(bird, names).by(scheme)
        assert answer.natural.code == plain_rules(answer.name)
        assert {rival.english for rival in answer.rivals} == claims[answer.natural.code]


def both(first: str, second: str, natural: str, scheme: Scheme, names: NameList) -> None:
    """Assert that each of two birds is told of the other in that list."""
    one, other = (names.find(name)[0] for name in (first, second))
    for bird, rival in ((one, other), (other, one)):
        answer = explain_code(bird, names).by(scheme)
        assert answer.natural.code == natural
        assert rival in answer.rivals


@pytest.mark.parametrize(
    ("natural", "first", "second"),
    [
        ("BAGO", "Barrow's Goldeneye", "Barnacle Goose"),
        ("BBWA", "Bay-breasted Warbler", "Black-backed Wagtail"),
        ("BRSP", "Brewer's Sparrow", "Band-rumped Storm-Petrel"),
        ("GCWA", "Golden-cheeked Warbler", "Golden-crowned Warbler"),
        ("GRWA", "Grace's Warbler", "Gray Wagtail"),
        ("OCWA", "Orange-crowned Warbler", "Orange-cheeked Waxbill"),
        ("RTHU", "Ruby-throated Hummingbird", "Rufous-tailed Hummingbird"),
        ("STFL", "Scissor-tailed Flycatcher", "Stolid Flycatcher"),
        ("STSA", "Stilt Sandpiper", "Sharp-tailed Sandpiper"),
        ("WCPI", "White-crowned Pigeon", "White-cheeked Pintail"),
        ("WHSW", "Whistling Swan", "Whooper Swan"),
    ],
)
def test_one_sided_collisions_of_the_bbl_list(natural: str, first: str, second: str) -> None:
    """Pairs printed as collisions with rare forms in notes on the BBL codes: the first keeps the code."""
    names = load_names()
    both(first, second, natural, "BBL", names)
    keeper = names.by_code(natural, "BBL")
    assert keeper == names.find(first)[0]


@pytest.mark.parametrize(
    ("natural", "birds_and_codes"),
    [
        # Mailing list of 1996 on the lists' two-sided collisions.
        ("TRSW", {"Tree Swallow": "TRES", "Trumpeter Swan": "TRUS"}),
        # Encyclopaedia article on bird codes.
        ("CAGO", {"Canada Goose": "CANG", "Cackling Goose": "CACG"}),
        # Clash of three confirmed in notes on the BBL codes.
        ("BASW", {"Barn Swallow": "BARS", "Bank Swallow": "BANS", "Bahama Swallow": "BAHS"}),
        # Codes as the IBP list of 2024 prints them.
        ("BTGW", {"Black-throated Gray Warbler": "BTYW", "Black-throated Green Warbler": "BTNW"}),
        ("CEWA", {"Cedar Waxwing": "CEDW", "Cerulean Warbler": "CERW"}),
        ("CAWR", {"Canyon Wren": "CANW", "Cactus Wren": "CACW", "Carolina Wren": "CARW"}),
        ("NOSH", {"Northern Shoveler": "NSHO", "Northern Shrike": "NSHR"}),
        ("BLWA", {"Blackburnian Warbler": "BLBW", "Blackpoll Warbler": "BLPW"}),
        ("PRWA", {"Prairie Warbler": "PRAW", "Prothonotary Warbler": "PROW"}),
        ("LABU", {"Lazuli Bunting": "LAZB", "Lark Bunting": "LARB"}),
    ],
)
def test_two_sided_collisions_of_the_ibp_list(natural: str, birds_and_codes: dict[str, str]) -> None:
    """No bird of such a group has the code of the rules, and each is told of all the others."""
    names = load_names()
    assert names.by_code(natural, "IBP") is None
    for name, code in birds_and_codes.items():
        answer = explain_code(name, names).by("IBP")
        assert answer.listed == code
        assert answer.natural.code == natural
        for other in birds_and_codes.keys() - {name}:
            assert names.find(other)[0] in answer.sharers


@pytest.mark.parametrize(
    ("name", "natural", "holder"),
    [
        ("Greater Flamingo", "GRFL", "Gray Flycatcher"),
        ("Sooty Storm-Petrel", "SOSP", "Song Sparrow"),
        ("Spoonbill Sandpiper", "SPSA", "Spotted Sandpiper"),
        ("Cackling Goose", "CAGO", "Canada Goose"),
    ],
)
def test_collisions_with_names_no_longer_on_the_bbl_list(name: str, natural: str, holder: str) -> None:
    """Pairs of the same notes whose rarer bird the list of 2025 has under another name or not at all."""
    names = load_names()
    answer = explain_code(name, names).by("BBL")
    assert (answer.listed, answer.natural.code) == ("", natural)
    assert answer.holder == names.find(holder)[0]


def test_the_old_heron_collision_is_settled() -> None:
    """Great Blue and Green-backed Heron both gave GBHE; since the latter is the Green Heron, one does."""
    names = load_names()
    assert natural_code("Green-backed Heron").code == natural_code("Great Blue Heron").code == "GBHE"
    for scheme in SCHEMES:
        assert explain_code("Great Blue Heron", names).by(scheme).rivals == ()

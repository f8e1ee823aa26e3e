"""The commands that ask about birds of the guide. Words in, answers out, as in ``cli``, which offers them.

A word that leads to no account is wrong use: nothing can be answered, and the exit code is 2.
"""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING, Final

import click

from tertial.options import GUIDE, JSON, guarded, guide_folder, slow_yaml

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from tertial.guide import Guide, Species
    from tertial.marks.plumages import Plumage

# Rooms are imported where they are used: `tertial --help` should not wait for what it does not need.
# ruff: noqa: PLC0415


@click.command()
@click.argument("first", metavar="BIRD")
@click.argument("second", metavar="BIRD")
@click.option("--plumage", default="", help="The only plumage to compare, such as female or juvenile male.")
@GUIDE
@JSON
def compare(first: str, second: str, plumage: str, folder: Path | None, as_json: bool) -> None:
    """Set two birds side by side, what separates them best on top.

    BIRD is the code or the name of an account of the guide.
    """
    from tertial.answers.comparing import compare_pair
    from tertial.answers.comparing_json import pair_as_json
    from tertial.answers.comparing_text import pair_as_text

    guide = _loaded(folder)
    one, other = _accounts(guide, (first, second))
    if one is other:
        raise click.UsageError(f"{first!r} and {second!r} are one bird; two were expected")
    answer = compare_pair(guide, one, other, _plumage(plumage) if plumage else None)
    click.echo(pair_as_json(answer) if as_json else pair_as_text(answer, _columns()), nl=False)


@click.command()
@click.argument("birds", metavar="[BIRD]...", nargs=-1)
@GUIDE
@JSON
def read(birds: tuple[str, ...], folder: Path | None, as_json: bool) -> None:
    """Show what is understood of the phrases of each BIRD, and what is not.

    BIRD is the code or the name of an account; without one, all accounts are read.
    """
    from tertial.answers.understanding import accounts_as_json, accounts_as_text, read_account

    guide = _loaded(folder)
    accounts = [read_account(guide, species) for species in (_accounts(guide, birds) if birds else guide.species)]
    click.echo(accounts_as_json(accounts) if as_json else accounts_as_text(accounts, _columns()), nl=False)


@click.command()
@click.argument("birds", metavar="BIRD...|GROUP", nargs=-1, required=True)
@GUIDE
@JSON
def key(birds: tuple[str, ...], folder: Path | None, as_json: bool) -> None:
    """Make a key that leads to one of several birds and plumages.

    Name two or more accounts by code or name, or one group: of guide.yaml, a flock, or a genus.
    """
    from tertial.answers.keying import find_group, key_as_json, key_as_text, why_no_key

    guide = _loaded(folder)
    members = find_group(guide, birds[0]) if len(birds) == 1 else ()
    if len(birds) == 1 and not members:
        raise click.UsageError(why_no_key(guide, birds[0]))
    members = members or tuple({each.code: each for each in _accounts(guide, birds)}.values())
    click.echo(key_as_json(guide, members) if as_json else key_as_text(guide, members, _columns()), nl=False)


@click.command()
@click.argument("bird", default="")
@GUIDE
@JSON
def alike(bird: str, folder: Path | None, as_json: bool) -> None:
    """List the birds that look most alike over all that is recorded, or those like BIRD.

    Only birds of about one size are listed, with a month or a habitat in common.
    """
    from tertial.answers.likening import alike_as_json, alike_as_text, alike_birds

    guide = _loaded(folder)
    pairs = alike_birds(guide, _accounts(guide, (bird,))[0] if bird else None)
    click.echo(alike_as_json(pairs) if as_json else alike_as_text(pairs, _columns()), nl=False)


def _loaded(folder: Path | None) -> Guide:
    """Load the guide; what is wrong in its entries is for ``check`` to say."""
    from tertial.loading import load_guide

    guide = guarded(lambda: load_guide(guide_folder(folder)))
    slow_yaml()
    return guide


def _accounts(guide: Guide, asked: Iterable[str]) -> tuple[Species, ...]:
    from tertial.answers.finding import Missing, find_species

    found = [find_species(guide, word) for word in asked]
    missing = [each.reason for each in found if isinstance(each, Missing)]
    if missing:
        raise click.UsageError("; ".join(missing))
    return tuple(each for each in found if not isinstance(each, Missing))


def _plumage(text: str) -> Plumage:
    from tertial.marks.plumages import near_plumages, read_plumage

    plumage = read_plumage(text)
    if plumage is None:
        near = near_plumages(text)
        hint = f"; near it are {', '.join(near)}" if near else "; all, male or juvenile female, say, was expected"
        raise click.UsageError(f"{text!r} is not a plumage that tertial knows{hint}")
    return plumage


def _columns() -> int:
    return shutil.get_terminal_size().columns


COMMANDS: Final = (compare, read, key, alike)
"""The commands, in the order of the help."""

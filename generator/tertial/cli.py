"""Words in, report out. The commands only call the rooms below and print what comes back.

Exit codes: 0 clean, 1 problems in the guide, 2 wrong use or a failure of our own.
"""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path

import click

from tertial import __version__, asking
from tertial.options import GUIDE, JSON, guarded, guide_folder, slow_yaml

# Rooms are imported where they are used: `tertial --help` should not wait for what it does not need.
# ruff: noqa: PLC0415

_BRIEF = click.option("--brief", is_flag=True, help="One line a problem, as editors read it.")


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="tertial %(version)s")
def main() -> None:
    """Check a field journal kept in plain text, and publish it as a field guide."""


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--demo", is_flag=True, help="Fill it with the demo: a made-up river wood and its birds.")
def start(folder: Path, demo: bool) -> None:
    """Make a new guide in FOLDER."""
    from tertial.starting import Occupied, start_guide

    made = guarded(lambda: start_guide(folder, demo=demo))
    if isinstance(made, Occupied):
        raise click.UsageError(made.reason)
    for path in made:
        click.echo(f"made {path}")
    click.echo(f"Now write an entry in {folder / 'entries'}, then: tertial build --guide {folder}")


@main.command()
@click.argument("name", default="")
@click.option("--flock", is_flag=True, help="An account of a flock.")
@click.option("--outing", is_flag=True, help="An outing; NAME is its day, today when left out.")
@click.option("--place", is_flag=True, help="A place that outings go to.")
@click.option("--unknown", is_flag=True, help="A bird that could not be named.")
@GUIDE
def entry(name: str, folder: Path | None, **kinds: bool) -> None:
    """Write a new entry for the bird NAME.

    NAME is an English, French or scientific name, or a code.
    """
    from tertial.entering import Refused, write_entry

    chosen = [kind for kind, is_chosen in kinds.items() if is_chosen] or ["species"]
    if len(chosen) > 1:
        raise click.UsageError(f"--{chosen[0]} and --{chosen[1]} name two kinds of entry; one was expected")
    if not name.strip() and chosen != ["outing"]:
        raise click.UsageError("the entry has no name; a NAME was expected")
    made = guarded(lambda: write_entry(guide_folder(folder), chosen[0], name, dt.date.today()))
    if isinstance(made, Refused):
        click.echo(f"no entry written: {made.reason}\n    mend: {made.mend}", err=True)
        sys.exit(1)
    click.echo(made.relative_to(Path.cwd()) if made.is_relative_to(Path.cwd()) else made)


@main.command()
@GUIDE
@JSON
@_BRIEF
def check(folder: Path | None, as_json: bool, brief: bool) -> None:
    """Say what is wrong or missing in the entries."""
    from tertial.checks.every import check_guide
    from tertial.loading import load_guide
    from tertial.report import Report, in_form

    guide = guarded(lambda: load_guide(guide_folder(folder)))
    slow_yaml()
    report = Report.of((*guide.problems, *check_guide(guide, dt.date.today())), guide.files)
    out, err = in_form(report, "json" if as_json else "brief" if brief else "full")
    click.echo(out, nl=False)
    click.echo(err, err=True, nl=False)
    sys.exit(report.exit_code)


@main.command()
@GUIDE
@JSON
@_BRIEF
def build(folder: Path | None, as_json: bool, brief: bool) -> None:
    """Check the entries and write the finished guide into build/."""

    from tertial.building import run_build

    sys.exit(run_build(guide_folder(folder), "json" if as_json else "brief" if brief else "full"))


@main.command()
@GUIDE
def pocket(folder: Path | None) -> None:
    """Make a pocket guide to print: a PDF of pages of the size A6, in pocket/.

    It has accounts, look-alikes, keys and an index. This needs more than the rest of tertial: pip install tertial[pdf].
    """
    from tertial.building import progress
    from tertial.pocket import FILE, OUTPUT, make_pocket_guide
    from tertial.report import in_form
    from tertial.stage import Outcome

    where = guide_folder(folder)
    made = guarded(lambda: make_pocket_guide(where, dt.date.today(), progress()))
    outcome = made.outcome
    if isinstance(outcome, Outcome):
        click.echo(where / OUTPUT / FILE)
        return
    if outcome is None:
        out, err = in_form(made.report, "full")
        click.echo(out, nl=False)
        click.echo(err, err=True, nl=False)
        click.echo(f"{OUTPUT}/ is left as it was.", err=True)
        sys.exit(made.report.exit_code)
    click.echo(f"no pocket guide written: {outcome.reason}\n    mend: {outcome.mend}", err=True)
    sys.exit(2)


@main.command()
@GUIDE
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8417,
    show_default=True,
    help="The port wished for; where it is taken, a free one is found.",
)
def proof(folder: Path | None, port: int) -> None:
    """Show the guide while you write it.

    What you save is followed. Open the address that is printed; Ctrl-C ends it. build/ is left as it is.
    """
    import gc

    try:
        from tertial.proof.running import run
    except KeyboardInterrupt:
        # Nothing was begun yet.
        return

    gc.enable()
    where = guide_folder(folder)
    slow_yaml()
    watched = sys.stderr.isatty()
    guarded(
        lambda: run(
            where,
            port,
            lambda address: click.echo(
                f"The proof of {where} is at {address} and follows what you save; Ctrl-C ends it."
            ),
            (lambda what: click.echo(what, err=True)) if watched else (lambda _: None),
        )
    )


@main.command()
@click.argument("name")
@JSON
def code(name: str, as_json: bool) -> None:
    """Give the alpha codes of the bird NAME, and the reasons for them."""
    from tertial.naming import explain_name, name_as_json, name_as_text, near_names

    explained = explain_name(name)
    click.echo(name_as_json(explained) if as_json else name_as_text(explained), nl=False)
    if not explained.birds:
        near = near_names(name)
        if near and not as_json:
            click.echo(f"    mend: the list has {', '.join(near)}", err=True)
        sys.exit(1)


@main.command()
@click.argument("word", required=False)
def why(word: str | None) -> None:
    """Explain the problem WORD.

    A bad and a good example are shown; without a word, all are listed.
    """
    from tertial.checks.words import all_words, explain

    if word is None:
        for each in all_words():
            click.echo(f"{each.word}  {each.title}")
        return
    found = explain(word)
    if found is None:
        from difflib import get_close_matches

        near = get_close_matches(word, [each.word for each in all_words()], n=3, cutoff=0.5)
        hint = f"; near it are {', '.join(near)}" if near else "; tertial why lists them all"
        raise click.UsageError(f"{word!r} is not the word of a problem{hint}")
    click.echo(found.text, nl=False)


for _command in asking.COMMANDS:
    main.add_command(_command)

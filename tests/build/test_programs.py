"""Templates as programs write what Jinja itself would write: the library is the reference."""

from __future__ import annotations

from typing import TYPE_CHECKING

import jinja2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from tertial.pages.programs import Programs

if TYPE_CHECKING:
    from jinja2.runtime import Context

SPECIALS = "<b>&amp;\"quoted\" 'single'</b>"
FILES = {
    "macros.html": """{% macro cell(words, style='plain') %}<td class="{{ style }}">{{ words }}</td>{% endmacro %}
{% macro framed(title) %}<div title="{{ title }}">{{ caller() }}</div>{% endmacro %}
{% macro any() %}{{ varargs | join(',') }}{{ kwargs.get('named') }}{% endmacro %}""",
    "base.html": "<title>{% block title %}{{ value }}{% endblock %}</title>{% block content %}{% endblock %}",
    "page.html": """{% extends 'base.html' %}{% from 'macros.html' import cell, framed, any %}
{% block title %}{{ super() }} and {{ value }}{% endblock %}
{% block content %}{{ cell(value) }}{{ cell(words=value, style=value) }}{{ any(value, 2, named=value) }}
{% call framed(value) %}{{ value }}{{ cell(value) }}{% endcall %}
{% set caught %}{{ value }}{% endset %}{{ caught }}{{ caught ~ value }}{{ [value, value] | join(value) }}
{% for at in range(3) %}{{ loop.index }}{{ plain(value) }}{{ asking(at) }}{{ judging(value) }}{% endfor %}
{{ value | upper }}
{{ value | safe }}{{ value | e }}{{ value | tojson }}{% trans %}so {{ value }}{% endtrans %}
{{ _('%(what)s', what=value) }}
{% autoescape false %}{{ value }}{{ cell(value) }}{% endautoescape %}{{ kind(value) }}{{ made() }}
{% endblock %}""",
}


class WithMarkup:
    """Something that is no text, and knows its markup."""

    def __html__(self) -> str:
        return "<i>known</i>"

    def __str__(self) -> str:
        return SPECIALS


def plain(value: object) -> str:
    """Give a text that is to be escaped."""
    return f"<{value}>"


@jinja2.pass_context
def asking(context: Context, at: int) -> str:
    """Look at what stands round the call, a loop's own name included."""
    return f"{at}: {context.resolve('value')} {'at' in context}"


@jinja2.pass_eval_context
def judging(evaluation: jinja2.nodes.EvalContext, value: object) -> str:
    """Look at whether what is written is escaped."""
    return f"{evaluation.autoescape} {value}"


class Made:
    """A class that is called, and whose objects are."""

    def __call__(self) -> str:
        return SPECIALS


def filled(kind: type[jinja2.Environment], value: object, name: str = "page.html") -> str:
    """Fill the templates in."""
    jinja = kind(
        loader=jinja2.DictLoader(FILES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        extensions=["jinja2.ext.i18n"],
        keep_trailing_newline=True,
    )
    jinja.install_null_translations(newstyle=True)  # type: ignore[attr-defined]
    jinja.globals.update(plain=plain, asking=asking, judging=judging, kind=str, made=Made())
    return jinja.get_template(name).render(value=value)


@pytest.mark.parametrize("value", [SPECIALS, Markup(SPECIALS), 7, 0.1, None, True, (SPECIALS, 1), {"a": SPECIALS}, ""])
def test_what_is_written_is_what_jinja_writes(value: object) -> None:
    assert filled(Programs, value) == filled(jinja2.Environment, value)


def test_so_is_what_knows_its_markup() -> None:
    FILES["known.html"] = "{{ value }}{% from 'macros.html' import cell %}{{ cell(value) }}{{ value ~ '<' }}"
    assert filled(Programs, WithMarkup(), "known.html") == filled(jinja2.Environment, WithMarkup(), "known.html")
    assert "<i>known</i>" in filled(Programs, WithMarkup(), "known.html")


@given(st.text())
def test_any_text_is_escaped(text: str) -> None:
    assert filled(Programs, text) == filled(jinja2.Environment, text)


def test_a_text_and_the_same_as_markup_are_told_apart() -> None:
    assert filled(Programs, SPECIALS) != filled(Programs, Markup(SPECIALS))


@pytest.mark.parametrize("fault", ["{{ nothing }}", "{{ plain() }}", "{{ value.nothing }}", "{{ value() }}"])
def test_faults_are_the_same(fault: str) -> None:
    FILES["fault.html"] = fault
    with pytest.raises(Exception) as ours:  # noqa: PT011 - whatever it is, it has to be the same
        filled(Programs, SPECIALS, "fault.html")
    with pytest.raises(type(ours.value)) as theirs:
        filled(jinja2.Environment, SPECIALS, "fault.html")
    assert str(ours.value) == str(theirs.value)

"""Template tags for the forms of a draft."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django import template

from projects.present.draft_form import EntryForm

register = template.Library()


def _field(form: EntryForm, name: str, label: str, hint: str) -> dict[str, Any]:
    return {
        "name": name,
        "label": label,
        "hint": hint,
        "value": form.value(name),
        "errors": form.errors.get(name, ()),
        "focus": form.focus == name,
    }


@register.inclusion_tag("projects/_draft_text.html")
def text_field(
    form: EntryForm, name: str, label: str, hint: str = "", kind: str = ""
) -> dict[str, Any]:
    """Write a text field; `kind` is "", length or number."""
    return {**_field(form, name, label, hint), "kind": kind}


@register.inclusion_tag("projects/_draft_select.html")
def pick_field(
    form: EntryForm,
    name: str,
    label: str,
    options: Iterable[tuple[str, str]],
    empty: str = "",
    reload: str = "",
) -> dict[str, Any]:
    """Write a pick list; `reload` is where the form comes from when it changes."""
    return {
        **_field(form, name, label, ""),
        "options": options,
        "empty": empty,
        "reload": reload,
        "entry": form.entry,
    }


@register.filter
def of(values: Mapping[str, Any], name: str) -> Any:
    """Return a field by name."""
    return values.get(name, "")

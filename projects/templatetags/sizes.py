"""Template tags that write lengths."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from django import template
from django.utils.html import conditional_escape, format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

from projects.engine.fit.advice import hangs_on
from projects.engine.fit.solve import Solution, Term
from projects.engine.plan.records import Dimension
from projects.engine.units import Shown, decimal_text, mm_per
from projects.present.sums import SumLine, term_lines
from projects.showing import Showing

register = template.Library()


@register.simple_tag
def size(mm: Fraction, showing: Showing) -> SafeString:
    """Write a length [mm] as this person wants sizes shown, and as it is read aloud."""
    return size_html(showing.of(mm))


@register.filter
def as_size(shown: Shown) -> SafeString:
    """Write a length that was made ready before."""
    return size_html(shown)


def size_html(shown: Shown) -> SafeString:
    """Return the markup that css/size.css describes."""
    return format_html(
        '<span class="size" aria-hidden="true">{}</span><span class="vh">{}</span>',
        _seen(shown),
        shown.spoken,
    )


def _seen(shown: Shown) -> SafeString:
    parts = [conditional_escape(shown.text or shown.whole)]
    if shown.denominator:
        parts.append(format_html("<i>{}/{}</i>", shown.numerator, shown.denominator))
    if shown.style != "tape":
        parts.append(format_html("<small>{}</small>", shown.unit))
    if shown.word:
        parts.append(format_html("<small>{}</small>", shown.word))
    return mark_safe(" ".join(part for part in parts if part))  # noqa: S308 - escaped


@register.simple_tag
def exact(mm: Fraction, showing: Showing) -> str:
    """Write a length [mm] in decimals: mm alone, or inches with mm behind."""
    if showing.unit == "mm":
        return f"{decimal_text(mm, 2)} mm"
    return f"{decimal_text(mm / mm_per('in'), 3)} in, {decimal_text(mm, 2)} mm"


@register.simple_tag
def sum_in_words(
    terms: Iterable[Term], solution: Solution, showing: Showing
) -> SafeString:
    """Write a sum in one line: `36 Overall width − 0.742 Left side thickness …`."""
    lines = term_lines(solution, tuple(terms), showing.unit)
    return format_html_join(" ", "{}", ((_line(line),) for line in lines))


@register.simple_tag(name="hangs_on")
def hangs_on_stock(part: str, dimension: Dimension, solution: Solution) -> str:
    """Name the stock that a size hangs on and nobody has measured; "" for none."""
    found = hangs_on(solution, solution.form((part, dimension)))
    return ", ".join(stock.name for stock in found)


def _line(line: SumLine) -> SafeString:
    return format_html(
        "{}{}{} {}",
        f"{line.sign} " if line.sign else "",
        fractions(f"{line.times} ") if line.times else "",
        fractions(line.value),
        line.name,
    )


@register.filter
def fractions(text: str) -> SafeString:
    """Set the fractions in a text of numbers as real ones: `3 1/2`, `1/2 × `."""
    return format_html_join(
        " ",
        "{}",
        (
            (
                format_html('<span class="frac">{}</span>', word)
                if "/" in word
                else word,
            )
            for word in text.split(" ")
        ),
    )

"""Sentences as templates and what fills them, so that they can be translated."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(frozen=True, kw_only=True)
class Words:
    """Hold a sentence as a template with what fills it.

    `lengths_mm` [mm] are shown as the reader likes; `terms` are words to translate;
    `names` are those of the plan; `phrases` are filled first.
    """

    template: str
    lengths_mm: Mapping[str, Fraction] = field(default_factory=dict)
    terms: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    phrases: Mapping[str, Words] = field(default_factory=dict)

    def text(
        self, *, show: Callable[[Fraction], str], say: Callable[[str], str] = str
    ) -> str:
        """Return the sentence; `show` words a length [mm], `say` translates."""
        return say(self.template).format(
            **{name: show(mm) for name, mm in self.lengths_mm.items()},
            **{name: say(term) for name, term in self.terms.items()},
            **self.names,
            **{
                name: phrase.text(show=show, say=say)
                for name, phrase in self.phrases.items()
            },
        )


def row(words: Sequence[Words]) -> Words:
    """Return phrases with commas between them."""
    names = [f"part_{n}" for n in range(len(words))]
    return Words(
        template=", ".join(f"{{{name}}}" for name in names),
        phrases=dict(zip(names, words, strict=True)),
    )

"""What set-up says: few lines, all on stderr, as stdout belongs to the command."""

import sys


class SetupError(Exception):
    """Set-up cannot go on; the message is the one line a person reads."""


def say(line: str) -> None:
    """Print one line of progress."""
    print(line, file=sys.stderr, flush=True)

#!/usr/bin/env python3
"""Run any command of the app: python3 manage.py COMMAND.

It needs nothing but Python: what is missing is set up first (shopclass/setup).
"""

import os
import sys

# This file alone must be readable by an older Python, so that it can say so.
if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit(
        "This needs Python 3.11 or newer, and this is Python %d.%d."  # noqa: UP031
        % sys.version_info[:2]
    )

from shopclass import setup

if __name__ == "__main__":
    if sys.argv[1:2] == ["demo"]:
        # The demo has a database of its own; settings.py chooses it.
        os.environ["SHOPCLASS_DEMO"] = "1"
    setup.make_ready(sys.argv)
    if sys.argv[1:2] == ["sizes"]:
        # It needs neither settings nor a database, so it works without them.
        from projects.engine.command import main

        sys.exit(main(sys.argv[2:]))

    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shopclass.settings")
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as error:
        sys.exit(str(error))
    except KeyboardInterrupt:
        sys.exit(130)

#!/usr/bin/env python3
import gc
import os
import sys

from contractor.bootstrap import ready_environment


def main() -> None:
    command, rest = (sys.argv[1] if len(sys.argv) > 1 else "help"), sys.argv[2:]
    ready_environment(command)
    # Starting makes many objects that stay; looking through them for rubbish again and again slows it by a tenth.
    gc.set_threshold(50_000)
    if command in ("test", "lint"):
        from tests import suite

        sys.exit(suite.run_tests(rest) if command == "test" else suite.run_linters())

    from django.core.management import execute_from_command_line

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.settings")
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()

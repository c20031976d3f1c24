#!/usr/bin/env python3
import os
import sys

from contractor.bootstrap import ready_environment


def main() -> None:
    command, rest = (sys.argv[1] if len(sys.argv) > 1 else "help"), sys.argv[2:]
    ready_environment(command)
    if command in ("test", "lint"):
        from tests import suite

        sys.exit(suite.run_tests(rest) if command == "test" else suite.run_linters())

    from django.core.management import execute_from_command_line

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.settings")
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()

"""`python -m planlang` is the command `planlang`."""

from planlang.cli.main import main

main()

"""`python -m planish` is the command line."""

from planish.doors.cli.main import main

if __name__ == "__main__":
    main()

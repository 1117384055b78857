"""`python -m elevgen`."""

from elevgen.cli import main

if __name__ == "__main__":
    main()

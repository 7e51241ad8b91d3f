"""`python -m handouts_build` is the command `handouts`."""

from handouts_build.cli import main

if __name__ == "__main__":
    main()

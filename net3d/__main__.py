"""``python -m net3d`` is the command ``net3d``."""

from net3d.cli import main

if __name__ == "__main__":
    main()

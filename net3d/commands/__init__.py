"""Commands of the command line, one file each; nothing heavy is imported before one runs."""

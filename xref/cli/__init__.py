"""In: the command line. Out: text or JSON on stdout, talk on stderr, exit codes as grep's.
One command a file: parse, call, print; nothing else."""

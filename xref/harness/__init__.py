"""In: the store. Out: answers: where a circuit appears, what a connector holds, what passes through what.
Nothing here reads a PDF."""

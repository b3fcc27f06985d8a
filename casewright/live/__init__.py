"""The live view: a server on this machine alone that shows the piece while its spec is written."""

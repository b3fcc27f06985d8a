"""The command line and the Python face."""

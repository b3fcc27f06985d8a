"""The version that every file and ``--version`` names."""


def version() -> str:
    """The version of the program as it is installed."""
    from exporters.stamp import version as installed

    return installed()

"""``python -P -m casewright``: the same as the ``casewright`` program."""

import sys

from casewright.cli import main

sys.exit(main())

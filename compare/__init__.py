"""All computation of the program. Screens, words and papers stand elsewhere."""

import os

# Matrices here are small: threads of the linear algebra cost more than they save, and the search runs threads of its
# own. Read once, when numpy loads; a value that is set already stands.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

"""What a fresh process loads up to its first table of the families, and that what it leaves out is still there."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from compare.demo import demo_house
from compare.pipeline import compare_house

REPOSITORY = Path(__file__).resolve().parents[1]
LEFT_OUT = (
    # general libraries that the first table has no use for
    *("pandas", "pint", "pvlib", "psychrolib", "plotly", "dash", "openpyxl", "typer", "rich", "tomlkit", "typst"),
    *("scipy.special", "scipy.linalg", "scipy.stats", "scipy.optimize", "scipy.interpolate"),
    # our own parts that come after it
    *("compare.search", "compare.views", "compare.jobs", "compare.commands", "compare.trials", "compare.every_layout"),
    *("compare.climate.reader", "compare.climate.adjust"),
    # what numba needs to compile, which its kept code does not
    *("numba.core.typing.mathdecl", "numba.np.npyimpl", "numba.typed.typeddict"),
)


def _python(code: str, **more: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=REPOSITORY,
        env=os.environ | {"PYTHONPATH": str(REPOSITORY)} | more,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def _loaded(code: str) -> set[str]:
    return set(_python(f"{code}\nimport sys\nprint('\\n'.join(sys.modules))").split())


def test_the_pipeline_imports_no_heavy_library() -> None:
    loaded = _loaded("import compare.pipeline")
    assert loaded.isdisjoint({*LEFT_OUT, "numba", "scipy", "shapely", "fluids"})


def test_the_first_table_needs_none_of_them() -> None:
    """With caches filled, as they are after a first run or `hplayouts warm`."""
    compare_house(demo_house())
    loaded = _loaded(
        "from compare.demo import demo_house\nfrom compare.pipeline import compare_house\n"
        "assert compare_house(demo_house()).rank().ranked"
    )
    assert loaded.isdisjoint(LEFT_OUT)
    assert {"compare.pipeline", "numba", "shapely", "fluids"} <= loaded


@pytest.mark.parametrize(("given", "expected"), [("", "1"), ("3", "3")])
def test_linear_algebra_runs_in_one_thread_unless_told_otherwise(given: str, expected: str) -> None:
    told = {"OPENBLAS_NUM_THREADS": given} if given else {}
    code = "import os\nimport compare\nprint(os.environ['OPENBLAS_NUM_THREADS'])"
    if not given:
        code = f"import os\nos.environ.pop('OPENBLAS_NUM_THREADS', None)\n{code}"
    assert _python(code, **told).strip() == expected


def test_code_is_kept_read_again_without_the_compiler_and_compiled_anew_when_it_changes(tmp_path: Path) -> None:
    """Numba's count of what it read from disk, and the results, in three processes one after the other."""
    module = tmp_path / "kept_sum.py"
    text = "def total(a):\n    found = 0.0\n    for x in a:\n        found += x * x\n    return found\n"
    run = f"""
import sys
sys.path.insert(0, {str(tmp_path)!r})
import kept_sum
import numpy as np
from compare.physics.compiled import kept_code

total = kept_code(kept_sum.total)
print(total(np.arange(4.0)), sum(total.stats.cache_hits.values()), "numba.typed.typeddict" in sys.modules)
"""
    folder = {"NUMBA_CACHE_DIR": str(tmp_path / "kept")}
    module.write_text(text, encoding="utf-8")
    assert _python(run, **folder).split() == ["14.0", "0", "True"]
    assert _python(run, **folder).split() == ["14.0", "1", "False"]
    module.write_text(text.replace("x * x", "x + 10.0"), encoding="utf-8")
    assert _python(run, **folder).split() == ["46.0", "0", "True"]


def test_numba_loaded_the_short_way_can_do_all_that_it_could() -> None:
    """Products by BLAS, and convolutions without it, as numpy has them; garbage is looked for again."""
    code = """
import gc
import numpy as np
from compare.physics.compiled import load_numba

numba = load_numba()

@numba.njit
def both(a, b, x, y):
    return a @ b, np.convolve(x, y)

rng = np.random.default_rng(5)
a, b, x, y = rng.normal(size=(4, 3)), rng.normal(size=(3, 2)), rng.normal(size=9), rng.normal(size=4)
product, sums = both(a, b, x, y)
assert np.allclose(product, a @ b, rtol=1e-12)
assert np.allclose(sums, np.convolve(x, y), rtol=1e-12)
assert gc.isenabled()
assert load_numba() is numba
"""
    _python(code)

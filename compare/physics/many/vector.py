"""Vectors of numbers as a type that numba compiles: so many lanes, or so many hours, in one name.

A loop over 64 lanes that a compiler must first prove free of overlap costs as much in checks as in work. Here a name
holds 4, 16 or 64 numbers in single precision, arithmetic is by element, and a comparison gives answers to `pick` with.
The machine code is LLVM's own vector code on any processor: registers where they are wide enough, several where not.
What is done with vectors beside arithmetic stands in `compare.physics.many.vector_calls`.
"""

from __future__ import annotations

import operator
from collections.abc import Callable
from typing import Any

from llvmlite import ir
from numba.core import types
from numba.core.datamodel.models import PrimitiveModel
from numba.core.datamodel.registry import register_default
from numba.core.imputils import lower_builtin
from numba.core.typing.templates import AbstractTemplate, infer_global, signature

SINGLE, WHOLE, YES = ir.FloatType(), ir.IntType(32), ir.IntType(1)
FAST = ("fast",)
Emit = Callable[[ir.IRBuilder, ir.Value, ir.Value], ir.Value]


class Vector(types.Type):
    """Numbers in single precision, or the answers of a comparison, side by side."""

    def __init__(self, width: int, answers: bool = False) -> None:
        self.width, self.answers = width, answers
        super().__init__(name=f"{'answers' if answers else 'numbers'}{width}")

    @property
    def code(self) -> ir.VectorType:
        """What LLVM calls it."""
        return ir.VectorType(YES if self.answers else SINGLE, self.width)


@register_default(Vector)
class _Model(PrimitiveModel):
    def __init__(self, manager: Any, vector: Vector) -> None:
        super().__init__(manager, vector, vector.code)


def vector_of(kinds: tuple[Any, ...]) -> Vector | None:
    """The vector type among arguments that are vectors of numbers of one width, or single numbers; None if not so."""
    found = {kind for kind in kinds if isinstance(kind, Vector)}
    fits = all(isinstance(kind, Vector) or kind == types.float32 for kind in kinds)
    vector = found.pop() if len(found) == 1 and fits else None
    return None if vector is None or vector.answers else vector


def spread_out(builder: ir.IRBuilder, value: ir.Value, code: ir.VectorType) -> ir.Value:
    """One number in every element."""
    blank, first = ir.Constant(code, ir.Undefined), ir.Constant(ir.VectorType(WHOLE, code.count), [0] * code.count)
    return builder.shuffle_vector(builder.insert_element(blank, value, ir.Constant(WHOLE, 0)), blank, first)


def as_vectors(builder: ir.IRBuilder, values: Any, kinds: Any, code: ir.VectorType) -> list[ir.Value]:
    """Arguments as vectors."""
    return [
        value if isinstance(kind, Vector) else spread_out(builder, value, code)
        for value, kind in zip(values, kinds, strict=True)
    ]


def _numbers(function: Callable[..., Any], emit: Emit, compares: bool = False) -> None:
    """Make an operator work by element on two vectors, or on a vector and a number."""

    @infer_global(function)
    class _Typing(AbstractTemplate):
        def generic(self, args: tuple[Any, ...], kws: dict[str, Any]) -> Any:
            vector = vector_of(args)
            return vector and signature(Vector(vector.width, answers=compares), *args)

    def lower(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        vector = vector_of(sig.args)
        assert vector is not None
        return emit(builder, *as_vectors(builder, args, sig.args, vector.code))

    for pair in ((Vector, Vector), (Vector, types.Float), (types.Float, Vector)):
        lower_builtin(function, *pair)(lower)


def _answers(function: Callable[..., Any], emit: Emit) -> None:
    """Make an operator work on the answers of two comparisons."""

    @infer_global(function)
    class _Typing(AbstractTemplate):
        def generic(self, args: tuple[Any, ...], kws: dict[str, Any]) -> Any:
            both = all(isinstance(arg, Vector) and arg.answers for arg in args)
            return signature(args[0], *args) if both and len(set(args)) == 1 else None

    def lower(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        return emit(builder, *args)

    lower_builtin(function, Vector, Vector)(lower)


def _arithmetic(name: str) -> Emit:
    return lambda builder, left, right: getattr(builder, name)(left, right, flags=FAST)


def _comparison(sign: str) -> Emit:
    return lambda builder, left, right: builder.fcmp_ordered(sign, left, right, flags=FAST)


for _name in ("add", "sub", "mul", "truediv"):
    for _function in (getattr(operator, _name), getattr(operator, f"i{_name}")):
        _numbers(_function, _arithmetic(f"f{_name.removeprefix('true')}"))
for _name, _sign in (("lt", "<"), ("le", "<="), ("gt", ">"), ("ge", ">=")):
    _numbers(getattr(operator, _name), _comparison(_sign), compares=True)
_answers(operator.and_, lambda builder, left, right: builder.and_(left, right))

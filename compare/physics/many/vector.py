"""Vectors of numbers as a type that numba compiles: so many lanes, or so many hours, in one name.

A loop over 64 lanes that a compiler must first prove free of overlap costs as much in checks as in work. Here a name
holds 16 or 64 numbers in single precision, arithmetic is by element, and a comparison gives a mask to `pick` with. The
machine code is LLVM's own vector code on any processor: registers where they are wide enough, several where not.

`load` and `store` take a flat array and the place of the first number; nothing checks that the others lie within.
"""

from __future__ import annotations

import operator
from collections.abc import Callable
from typing import Any

from llvmlite import ir
from numba.core import types
from numba.core.datamodel import register_default
from numba.core.datamodel.models import PrimitiveModel
from numba.core.imputils import lower_builtin
from numba.core.typing.templates import AbstractTemplate, infer_global, signature
from numba.extending import intrinsic

SINGLE, WHOLE, YES = ir.FloatType(), ir.IntType(32), ir.IntType(1)
FAST = ("fast",)


class Vector(types.Type):
    """Numbers in single precision, or the answers of a comparison, side by side."""

    def __init__(self, width: int, answers: bool = False) -> None:
        self.width, self.answers = width, answers
        super().__init__(name=f"{'answers' if answers else 'numbers'}{width}")

    @property
    def code(self) -> ir.VectorType:
        """What LLVM calls it."""
        return ir.VectorType(YES if self.answers else SINGLE, self.width)

    @property
    def mask(self) -> Vector:
        """Type of a comparison."""
        return Vector(self.width, answers=True)


@register_default(Vector)
class _Model(PrimitiveModel):  # type: ignore[misc]
    def __init__(self, dmm: Any, fe_type: Vector) -> None:
        super().__init__(dmm, fe_type, fe_type.code)


def _spread(builder: ir.IRBuilder, value: ir.Value, code: ir.VectorType) -> ir.Value:
    """One number in every element."""
    one = builder.insert_element(ir.Constant(code, ir.Undefined), value, ir.Constant(WHOLE, 0))
    return builder.shuffle_vector(
        one, ir.Constant(code, ir.Undefined), ir.Constant(ir.VectorType(WHOLE, code.count), [0] * code.count)
    )


def _widest(args: tuple[Any, ...]) -> Vector | None:
    """The vector type among arguments that are vectors of one width or single numbers."""
    found = {arg for arg in args if isinstance(arg, Vector)}
    plain = all(isinstance(arg, Vector) or arg == types.float32 for arg in args)
    return found.pop() if len(found) == 1 and plain else None


def _as_vector(builder: ir.IRBuilder, value: ir.Value, own: Any, vector: Vector) -> ir.Value:
    return value if isinstance(own, Vector) else _spread(builder, value, vector.code)


def _operator(
    function: Callable[..., Any], compares: bool, emit: Callable[[ir.IRBuilder, ir.Value, ir.Value], ir.Value]
) -> None:
    """An operator on two vectors, or on a vector and a number."""

    @infer_global(function)
    class _Typing(AbstractTemplate):  # type: ignore[misc]
        def generic(self, args: tuple[Any, ...], kws: dict[str, Any]) -> Any:
            vector = _widest(args)
            if vector is None or kws or vector.answers:
                return None
            return signature(vector.mask if compares else vector, *args)

    def lower(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        vector = _widest(sig.args)
        assert vector is not None
        left, right = (_as_vector(builder, value, own, vector) for value, own in zip(args, sig.args, strict=True))
        return emit(builder, left, right)

    for pair in ((Vector, Vector), (Vector, types.Float), (types.Float, Vector)):
        lower_builtin(function, *pair)(lower)


def _arithmetic(name: str) -> Callable[[ir.IRBuilder, ir.Value, ir.Value], ir.Value]:
    return lambda builder, left, right: getattr(builder, name)(left, right, flags=FAST)


def _comparison(sign: str) -> Callable[[ir.IRBuilder, ir.Value, ir.Value], ir.Value]:
    return lambda builder, left, right: builder.fcmp_ordered(sign, left, right, flags=FAST)


for _functions, _name in (
    ((operator.add, operator.iadd), "fadd"),
    ((operator.sub, operator.isub), "fsub"),
    ((operator.mul, operator.imul), "fmul"),
    ((operator.truediv, operator.itruediv), "fdiv"),
):
    for _function in _functions:
        _operator(_function, False, _arithmetic(_name))
for _function, _sign in ((operator.lt, "<"), (operator.le, "<="), (operator.gt, ">"), (operator.ge, ">=")):
    _operator(_function, True, _comparison(_sign))


def _whole_mask(emit: Callable[[ir.IRBuilder, ir.Value, ir.Value], ir.Value], function: Callable[..., Any]) -> None:
    """An operator on two masks."""

    @infer_global(function)
    class _Typing(AbstractTemplate):  # type: ignore[misc]
        def generic(self, args: tuple[Any, ...], kws: dict[str, Any]) -> Any:
            both = len(args) == 2 and all(isinstance(arg, Vector) and arg.answers for arg in args)
            return signature(args[0], *args) if both else None

    lower_builtin(function, Vector, Vector)(lambda context, builder, sig, args: emit(builder, *args))


_whole_mask(lambda builder, left, right: builder.and_(left, right), operator.and_)


def _place(
    context: Any, builder: ir.IRBuilder, array_type: Any, array: ir.Value, at: ir.Value, code: ir.Type
) -> ir.Value:
    """Pointer to a vector at a place of a flat array."""
    data = context.make_array(array_type)(context, builder, array).data
    return builder.bitcast(builder.gep(data, [at]), code.as_pointer())


def _loader(width: int) -> Any:
    vector = Vector(width)

    @intrinsic
    def load(typingctx: Any, array: Any, at: Any) -> Any:
        def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
            return builder.load(_place(context, builder, sig.args[0], *args, vector.code), align=4)

        return vector(array, types.uint64), emit

    return load


def _spreader(width: int) -> Any:
    vector = Vector(width)

    @intrinsic
    def spread(typingctx: Any, value: Any) -> Any:
        def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
            return _spread(builder, args[0], vector.code)

        return vector(types.float32), emit

    return spread


load4, load16, load64 = _loader(4), _loader(16), _loader(64)
"""So many numbers of a flat array from a place on."""
spread4, spread16, spread64 = _spreader(4), _spreader(16), _spreader(64)
"""One number so many times."""


@intrinsic
def store(typingctx: Any, array: Any, at: Any, value: Any) -> Any:
    """Write a vector to a flat array from a place on."""

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        builder.store(args[2], _place(context, builder, sig.args[0], args[0], args[1], sig.args[2].code), align=4)
        return context.get_dummy_value()

    return types.void(array, types.uint64, value), emit


@intrinsic
def store_whole(typingctx: Any, array: Any, at: Any, value: Any) -> Any:
    """Write a vector of whole numbers to a flat array of them."""

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        code = ir.VectorType(WHOLE, value.width)
        place = _place(context, builder, sig.args[0], args[0], args[1], code)
        builder.store(builder.fptosi(args[2], code), place, align=4)
        return context.get_dummy_value()

    return types.void(array, types.uint64, value), emit


@intrinsic
def load_whole(typingctx: Any, array: Any, at: Any) -> Any:
    """Sixteen whole numbers of a flat array from a place on."""
    vector = Vector(16)

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        place = _place(context, builder, sig.args[0], *args, ir.VectorType(WHOLE, 16))
        return builder.sitofp(builder.load(place, align=4), vector.code)

    return vector(array, types.uint64), emit


@intrinsic
def fours(typingctx: Any, first: Any, second: Any) -> Any:
    """The first number twice, then the second twice."""
    vector = Vector(4)

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        found = ir.Constant(vector.code, ir.Undefined)
        for k, value in enumerate((args[0], args[0], args[1], args[1])):
            found = builder.insert_element(found, value, ir.Constant(WHOLE, k))
        return found

    return vector(types.float32, types.float32), emit


@intrinsic
def element(typingctx: Any, value: Any, place: Any) -> Any:
    """One of the elements."""

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        return builder.extract_element(*args)

    return types.float32(value, types.uint64), emit


@intrinsic
def any_of(typingctx: Any, answers: Any) -> Any:
    """Whether any answer is yes."""

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        bits = builder.bitcast(args[0], ir.IntType(answers.width))
        return context.cast(builder, builder.icmp_unsigned("!=", bits, bits.type(0)), types.boolean, types.boolean)

    return types.boolean(answers), emit


def _choice(sign: str) -> Any:
    @intrinsic
    def choose(typingctx: Any, left: Any, right: Any) -> Any:
        vector = _widest((left, right))

        def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
            one, other = (_as_vector(builder, value, own, vector) for value, own in zip(args, sig.args, strict=True))
            return builder.select(builder.fcmp_ordered(sign, one, other, flags=FAST), one, other)

        return vector(left, right), emit

    return choose


larger, smaller = _choice(">"), _choice("<")
"""The larger, or the smaller, by element."""


@intrinsic
def pick(typingctx: Any, answers: Any, yes: Any, no: Any) -> Any:
    """By element: the first where the answer is yes, else the second; either may be one number."""
    vector = Vector(answers.width)

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        one, other = (
            _as_vector(builder, value, own, vector) for value, own in zip(args[1:], sig.args[1:], strict=True)
        )
        return builder.select(args[0], one, other)

    return vector(answers, yes, no), emit


def _called(builder: ir.IRBuilder, name: str, result: ir.Type, args: list[ir.Value]) -> ir.Value:
    """A function of LLVM's own on vectors; its name ends with the type of the last."""
    full = f"llvm.{name}.v{args[-1].type.count}f32"
    kind = ir.FunctionType(result, [arg.type for arg in args])
    function = builder.module.globals.get(full) or ir.Function(builder.module, kind, full)
    return builder.call(function, args, fastmath=FAST)


@intrinsic
def magnitude(typingctx: Any, value: Any) -> Any:
    """Without its sign, by element."""

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        return _called(builder, "fabs", value.code, list(args))

    return value(value), emit


@intrinsic
def whole(typingctx: Any, value: Any) -> Any:
    """Without its fraction, by element."""

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        return _called(builder, "trunc", value.code, list(args))

    return value(value), emit


def _reduction(name: str, *first: ir.Value) -> Any:
    @intrinsic
    def reduce(typingctx: Any, value: Any) -> Any:
        def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
            return _called(builder, f"vector.reduce.{name}", SINGLE, [*first, *args])

        return types.float32(value), emit

    return reduce


total, largest, smallest = _reduction("fadd", ir.Constant(SINGLE, 0.0)), _reduction("fmax"), _reduction("fmin")
"""Sum, largest and smallest of the elements."""


@intrinsic
def turn(typingctx: Any, source: Any, starts: Any, first: Any, shift: Any, target: Any, at: Any, step: Any) -> Any:
    """Sixteen rows of sixteen numbers become columns.

    Row k is read from `starts[first + k] + shift` on; column k is written from `at + k * step` on.
    """

    def emit(context: Any, builder: ir.IRBuilder, sig: Any, args: tuple[ir.Value, ...]) -> ir.Value:
        code, long = Vector(16).code, ir.IntType(64)
        given = context.make_array(sig.args[1])(context, builder, args[1]).data
        rows = []
        for k in range(16):
            place = builder.gep(given, [builder.add(args[2], ir.Constant(long, k))])
            start = builder.zext(builder.load(place), long)
            at = builder.add(start, args[3])
            rows.append(builder.load(_place(context, builder, sig.args[0], args[0], at, code), align=4))
        for k, row in enumerate(_turned(builder, rows)):
            at = builder.add(args[5], builder.mul(args[6], ir.Constant(long, k)))
            builder.store(row, _place(context, builder, sig.args[4], args[4], at, code), align=4)
        return context.get_dummy_value()

    whole = types.uint64
    return types.void(source, starts, whole, whole, target, whole, whole), emit


def _turned(builder: ir.IRBuilder, rows: list[ir.Value]) -> list[ir.Value]:
    """Rows as columns: halves of pairs of rows change places, at distances of 8, 4, 2 and 1."""
    for far in (8, 4, 2, 1):
        low = [k if not k & far else 16 + k - far for k in range(16)]
        high = [k + far if not k & far else 16 + k for k in range(16)]
        for k in range(16):
            if not k & far:
                pair = rows[k], rows[k + far]
                rows[k], rows[k + far] = (
                    builder.shuffle_vector(*pair, ir.Constant(ir.VectorType(WHOLE, 16), mask)) for mask in (low, high)
                )
    return rows

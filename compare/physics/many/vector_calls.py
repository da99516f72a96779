"""What is done with vectors beside arithmetic: read and written, chosen between, summed up, turned.

Places are those of the first number in a flat array; nothing checks that the others lie within it. Each function is
written as numba asks for it: the types that it takes, and the LLVM code that it becomes.
"""

from __future__ import annotations

from typing import Any

from llvmlite import ir
from numba.core import types
from numba.extending import intrinsic

from compare.physics.many.vector import FAST, SINGLE, WHOLE, Vector, as_vectors, spread_out, vector_of

call: Any = intrinsic
SQUARE = 16
"""Rows and columns that `turn` takes at once."""


def _place(context, builder, kind, array, at, code):
    """Pointer to a vector at a place of a flat array."""
    data = context.make_array(kind)(context, builder, array).data
    return builder.bitcast(builder.gep(data, [at]), code.as_pointer())


def _loader(width: int) -> Any:
    vector = Vector(width)

    @call
    def load(typingctx, array, at):
        def emit(context, builder, sig, args):
            return builder.load(_place(context, builder, sig.args[0], *args, vector.code), align=4)

        return vector(array, types.uint64), emit

    return load


def _spreader(width: int) -> Any:
    vector = Vector(width)

    @call
    def spread(typingctx, value):
        def emit(context, builder, sig, args):
            return spread_out(builder, args[0], vector.code)

        return vector(types.float32), emit

    return spread


load4, load16, load64 = _loader(4), _loader(16), _loader(64)
"""So many numbers of a flat array from a place on."""
spread4, spread16, spread64 = _spreader(4), _spreader(16), _spreader(64)
"""One number so many times."""


@call
def store(typingctx, array, at, value):
    """Write a vector to a flat array from a place on."""

    def emit(context, builder, sig, args):
        builder.store(args[2], _place(context, builder, sig.args[0], args[0], args[1], value.code), align=4)
        return context.get_dummy_value()

    return types.void(array, types.uint64, value), emit


@call
def store_whole(typingctx, array, at, value):
    """Write a vector without fractions to a flat array of whole numbers."""
    code = ir.VectorType(WHOLE, value.width)

    def emit(context, builder, sig, args):
        place = _place(context, builder, sig.args[0], args[0], args[1], code)
        builder.store(builder.fptosi(args[2], code), place, align=4)
        return context.get_dummy_value()

    return types.void(array, types.uint64, value), emit


@call
def twice(typingctx, first, second):
    """A number twice and another one twice, as a vector of four."""
    vector = Vector(4)

    def emit(context, builder, sig, args):
        found = ir.Constant(vector.code, ir.Undefined)
        for k, value in enumerate((args[0], args[0], args[1], args[1])):
            found = builder.insert_element(found, value, ir.Constant(WHOLE, k))
        return found

    return vector(types.float32, types.float32), emit


@call
def element(typingctx, value, place):
    """One of the elements."""

    def emit(context, builder, sig, args):
        return builder.extract_element(*args)

    return types.float32(value, types.uint64), emit


@call
def any_of(typingctx, answers):
    """Whether any answer is yes."""

    def emit(context, builder, sig, args):
        bits = builder.bitcast(args[0], ir.IntType(answers.width))
        return context.cast(builder, builder.icmp_unsigned("!=", bits, bits.type(0)), types.boolean, types.boolean)

    return types.boolean(answers), emit


@call
def pick(typingctx, answers, yes, no):
    """By element: the first where the answer is yes, else the second; either may be one number."""
    vector = Vector(answers.width)

    def emit(context, builder, sig, args):
        return builder.select(args[0], *as_vectors(builder, args[1:], sig.args[1:], vector.code))

    return vector(answers, yes, no), emit


def _choice(sign: str) -> Any:
    @call
    def choose(typingctx, left, right):
        vector = vector_of((left, right))

        def emit(context, builder, sig, args):
            one, other = as_vectors(builder, args, sig.args, vector.code)
            return builder.select(builder.fcmp_ordered(sign, one, other, flags=FAST), one, other)

        return vector(left, right), emit

    return choose


larger, smaller = _choice(">"), _choice("<")
"""The larger, or the smaller, by element."""


def _called(builder, name, result, args):
    """A function of LLVM's own on vectors; its name ends with the type of the last."""
    full = f"llvm.{name}.v{args[-1].type.count}f32"
    kind = ir.FunctionType(result, [arg.type for arg in args])
    function = builder.module.globals.get(full) or ir.Function(builder.module, kind, full)
    return builder.call(function, args, fastmath=FAST)


def _by_element(name: str) -> Any:
    @call
    def changed(typingctx, value):
        def emit(context, builder, sig, args):
            return _called(builder, name, value.code, list(args))

        return value(value), emit

    return changed


def _over_all(name: str, *first: ir.Value) -> Any:
    @call
    def reduced(typingctx, value):
        def emit(context, builder, sig, args):
            return _called(builder, f"vector.reduce.{name}", SINGLE, [*first, *args])

        return types.float32(value), emit

    return reduced


magnitude, whole = _by_element("fabs"), _by_element("trunc")
"""Without its sign, or without its fraction, by element."""
total, largest = _over_all("fadd", ir.Constant(SINGLE, 0.0)), _over_all("fmax")
"""Sum, or largest, of the elements."""


@call
def turn(typingctx, source, starts, first, shift, target, at, step):
    """Sixteen rows of sixteen numbers become columns.

    Row k is read from `starts[first + k] + shift` on; column k is written from `at + k * step` on.
    """
    code, long = Vector(SQUARE).code, ir.IntType(64)

    def emit(context, builder, sig, args):
        given = context.make_array(sig.args[1])(context, builder, args[1]).data
        rows = []
        for k in range(SQUARE):
            begin = builder.load(builder.gep(given, [builder.add(args[2], ir.Constant(long, k))]))
            place = builder.add(builder.zext(begin, long), args[3])
            rows.append(builder.load(_place(context, builder, sig.args[0], args[0], place, code), align=4))
        for k, row in enumerate(_turned(builder, rows)):
            place = builder.add(args[5], builder.mul(args[6], ir.Constant(long, k)))
            builder.store(row, _place(context, builder, sig.args[4], args[4], place, code), align=4)
        return context.get_dummy_value()

    whole_number = types.uint64
    return types.void(source, starts, whole_number, whole_number, target, whole_number, whole_number), emit


def _turned(builder, rows):
    """Rows as columns: halves of pairs of rows change places, at distances of 8, 4, 2 and 1."""
    for far in (8, 4, 2, 1):
        low = [SQUARE + k - far if k & far else k for k in range(SQUARE)]
        high = [SQUARE + k if k & far else k + far for k in range(SQUARE)]
        for k in range(SQUARE):
            if not k & far:
                pair = rows[k], rows[k + far]
                rows[k], rows[k + far] = (
                    builder.shuffle_vector(*pair, ir.Constant(ir.VectorType(WHOLE, SQUARE), mask))
                    for mask in (low, high)
                )
    return rows

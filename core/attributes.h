/// @file core/attributes.h Marks that compilers check where they can.

#ifndef CORE_ATTRIBUTES_H
#define CORE_ATTRIBUTES_H

/// The result must be looked at.
#define MUST_USE __attribute__((warn_unused_result))

/// Safe on the clock thread: no allocation, lock, file, print or sleep.
/// Clang 20 and later proves it; elsewhere the mark is for the reader and for
/// the symbol lint.
#if defined(__clang__) && __clang_major__ >= 20
#define RT_SAFE __attribute__((nonblocking))
#else
#define RT_SAFE
#endif

#endif // CORE_ATTRIBUTES_H

/// @file core/attributes.h Marks that compilers check where they can.

#ifndef CORE_ATTRIBUTES_H
#define CORE_ATTRIBUTES_H

/// The result must be looked at.
#define MUST_USE __attribute__((warn_unused_result))

#endif // CORE_ATTRIBUTES_H

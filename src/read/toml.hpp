#pragma once
/// @file
/// toml++, the only door to it: its parts are compiled once (toml.cpp) and it reports instead of
/// throwing or aborting.

// toml++ 3.3 asserts on the two characters "[{" where it should report an error; without the
// assertion it reports one.
#define TOML_ASSERT(condition) static_cast<void>(0)
#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 0
#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#define TOML_IMPLEMENTATION
#include "toml.hpp"

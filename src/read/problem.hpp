#pragma once
/// @file
/// What is wrong with what was read is told as what is wrong with a file.

#include "file/problem.hpp"

namespace keyhour::read {

using file::Problem;
using file::text;

}  // namespace keyhour::read

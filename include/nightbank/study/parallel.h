#pragma once

#include <cstddef>
#include <functional>

/// Many runs at once.
namespace nightbank {

/// Threads that this machine runs at once, at least 1.
int threadsHere();

/// Calls work(i) once for every i below `count`, on up to `threads` threads (at least one). Which
/// thread takes which index is left open: a call writes to the place of its index alone, so that
/// the results do not hang on the number of threads.
/// @throws what the call of the lowest index threw, of those that did; indices not begun by then
///         are left out
void inParallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

}  // namespace nightbank

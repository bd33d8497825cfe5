#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "nightbank/scenario/field.h"

/// How a field list reaches members of any type through untyped pointers. Private to the tables.
namespace nightbank::scenario::build {

template <class M>
struct MemberOf;

template <class P, class T>
struct MemberOf<T P::*> {
  using Part = P;
  using Type = T;
};

template <auto M>
void* memberAt(void* part) {
  return &(static_cast<typename MemberOf<decltype(M)>::Part*>(part)->*M);
}

// Parts behind a member: plain, optional or a list.
template <class T>
struct ItemAccess {
  using Item = T;

  static std::size_t count(const void*) { return 1; }

  static void* item(void* member, std::size_t) { return member; }

  static void* append(void* member) {
    *static_cast<T*>(member) = T{};
    return member;
  }

  static void reset(void* member, std::size_t) { clear(member); }

  static void erase(void* member, std::size_t) { clear(member); }

  static void clear(void* member) { *static_cast<T*>(member) = T{}; }

  static constexpr bool kIsPlain = true;
};

template <class T>
struct ItemAccess<std::optional<T>> {
  using Item = T;

  static std::optional<T>& of(void* member) { return *static_cast<std::optional<T>*>(member); }

  static std::size_t count(const void* member) {
    return static_cast<const std::optional<T>*>(member)->has_value() ? 1 : 0;
  }

  static void* item(void* member, std::size_t) { return &*of(member); }

  static void* append(void* member) { return &of(member).emplace(); }

  static void reset(void* member, std::size_t) { of(member).emplace(); }

  static void erase(void* member, std::size_t) { of(member).reset(); }

  static void clear(void* member) { of(member).reset(); }

  static constexpr bool kIsPlain = false;
};

template <class T>
struct ItemAccess<std::vector<T>> {
  using Item = T;

  static std::vector<T>& of(void* member) { return *static_cast<std::vector<T>*>(member); }

  static std::size_t count(const void* member) {
    return static_cast<const std::vector<T>*>(member)->size();
  }

  static void* item(void* member, std::size_t index) { return &of(member)[index]; }

  static void* append(void* member) { return &of(member).emplace_back(); }

  static void reset(void* member, std::size_t index) { of(member)[index] = T{}; }

  static void erase(void* member, std::size_t index) {
    of(member).erase(of(member).begin() + static_cast<std::ptrdiff_t>(index));
  }

  static void clear(void* member) { of(member).clear(); }

  static constexpr bool kIsPlain = false;
};

template <class T>
inline constexpr Items kItems{&ItemAccess<T>::count,  &ItemAccess<T>::item,  &ItemAccess<T>::append,
                              &ItemAccess<T>::reset,  &ItemAccess<T>::erase, &ItemAccess<T>::clear,
                              ItemAccess<T>::kIsPlain};

template <class T>
struct AccessWord;

template <class E>
struct AccessWord<Word<E>> {
  static const Word<E>& of(const void* member) { return *static_cast<const Word<E>*>(member); }

  static int get(const void* member) { return static_cast<int>(of(member).value); }

  static void set(void* member, int index, bool given) {
    *static_cast<Word<E>*>(member) = {static_cast<E>(index), given};
  }

  static bool isGiven(const void* member) { return of(member).given; }

  static void clear(void* member) { *static_cast<Word<E>*>(member) = {}; }
};

template <class E>
struct AccessWord<std::optional<Word<E>>> {
  using Maybe = std::optional<Word<E>>;

  static const Maybe& of(const void* member) { return *static_cast<const Maybe*>(member); }

  static int get(const void* member) {
    return of(member) ? static_cast<int>(of(member)->value) : -1;
  }

  static void set(void* member, int index, bool given) {
    *static_cast<Maybe*>(member) = Word<E>{static_cast<E>(index), given};
  }

  static bool isGiven(const void* member) { return of(member) && of(member)->given; }

  static void clear(void* member) { static_cast<Maybe*>(member)->reset(); }
};

template <class T>
inline constexpr WordAccess kWordAccess{&AccessWord<T>::get, &AccessWord<T>::set,
                                        &AccessWord<T>::isGiven, &AccessWord<T>::clear};

}  // namespace nightbank::scenario::build

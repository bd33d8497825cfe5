#pragma once

#include <string>
#include <string_view>

#include <nlohmann/json_fwd.hpp>

/// Looks into a page.
namespace nightbank::testing_support {

// What stands between the first `from` and the next `to`.
std::string between(const std::string& text, std::string_view from, std::string_view to);

// What the page's script reads.
nlohmann::json dataOf(const std::string& html);

// One picture of it; null where there is none of that name.
const nlohmann::json& pictureOf(const nlohmann::json& data, std::string_view id);

// The first fault of the nesting: elements end in the order in which they began (HTML Living
// Standard, 13.1.2, void elements have no end).
std::string nestingFault(const std::string& html);

}  // namespace nightbank::testing_support

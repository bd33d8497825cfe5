#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace nightbank::report {

/// Hash of `bytes`. Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5.3.3 and 6.2.
std::array<std::uint8_t, 32> sha256(std::string_view bytes);

/// Base 64 with padding, RFC 4648 section 4.
std::string base64(std::string_view bytes);

/// "sha256-..." as a content security policy names an inline script or style (CSP level 3).
std::string policyHash(std::string_view text);

}  // namespace nightbank::report

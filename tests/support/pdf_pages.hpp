#pragma once

#include <cstddef>
#include <string>

namespace sipladder::tests {

/// Page objects in a PDF as cairo writes it (objects uncompressed, one key a line).
inline std::size_t pages_of(const std::string& pdf) {
    std::size_t pages = 0;
    const std::string mark = "/Type /Page ";
    for (std::size_t at = pdf.find(mark); at != std::string::npos; at = pdf.find(mark, at + 1)) ++pages;
    return pages;
}

}  // namespace sipladder::tests

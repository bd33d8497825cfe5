#include "link.h"

#include "member.h"

#include "nightbank/scenario/document.h"

namespace nightbank::scenario {

std::string pathOf(const Link& link) {
  if (link.field == nullptr)
    return "";
  const std::string path = pathOf(*link.above, link.field->key);
  return link.field->kind == Kind::list ? itemPath(path, *link.field, link.part, link.item) : path;
}

std::string pathOf(const Link& link, std::string_view key) {
  return joinPath(pathOf(link), key);
}

}  // namespace nightbank::scenario

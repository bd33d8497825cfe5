#include "build.h"

namespace nightbank::scenario {

using namespace build;

template <>
const Spec& specOf<RiskInput>() {
  static const Spec spec{
      "an input of the risk",
      {
          value<&RiskInput::path>("path", Kind::text,
                                  "of a number, such as bank.capacity (your choice)")
              .required(),
          value<&RiskInput::low>("low", Kind::text,
                                 "lowest that it may be, in its unit (your judgement)"),
          value<&RiskInput::high>("high", Kind::text,
                                  "highest that it may be, in its unit (your judgement)"),
          value<&RiskInput::spread>("spread", Kind::text,
                                    "or one standard deviation, in its unit or in % of it (your "
                                    "judgement)"),
      },
      ""};
  return spec;
}

}  // namespace nightbank::scenario

#include "nightbank/report/page.h"

#include <algorithm>

#include "page_parts.h"
#include "sample_answer.h"
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "nightbank/report/sha256.h"
#include "nightbank/report/words.h"

namespace nightbank::report {
namespace {

using Json = nlohmann::json;

using testing_support::answerOf;
using testing_support::between;
using testing_support::dataOf;
using testing_support::failingNight;
using testing_support::nestingFault;
using testing_support::pictureOf;
using testing_support::sampleNight;

std::string pageOf(const Answer& answer) {
  return page({answer, nullptr, {}, {}, UnitSystem::metric});
}

TEST(Page, IsWellNested) {
  EXPECT_EQ(nestingFault(pageOf(answerOf(sampleNight()))), "");
  EXPECT_EQ(nestingFault("<p><b></p></b>"), "p ends inside b");
  EXPECT_EQ(nestingFault("<p><b></b>"), "p does not end");
}

TEST(Page, BeginsWithTheVerdict) {
  const Answer answer = answerOf(failingNight());
  const std::string html = pageOf(answer);
  EXPECT_EQ(between(html, R"(<p id="sentence">)", "</p>"), verdictSentence(answer));
  EXPECT_NE(html.find(R"(<p class="level">fails</p>)"), std::string::npos);
  EXPECT_LT(html.find(R"(id="sentence")"), html.find(R"(id="pictures")"));
}

TEST(Page, UsersTextIsNeverMarkup) {
  constexpr std::string_view kEvil = "</title></script><script>alert(1)</script> \"x' & <b>";
  Night night = sampleNight();
  night.plant.title = kEvil;
  night.plant.airConditioners[0].name = kEvil;
  night.plant.loads[0].name = kEvil;
  const std::vector<scenario::EchoRow> inputs{
      {true, std::string(kEvil), std::string(kEvil), "", ""},
      {false, "bank.float", std::string(kEvil), std::string(kEvil), std::string(kEvil)}};
  const std::vector<Warning> ofReader{{std::string(kEvil), std::string(kEvil)}};
  const Answer answer = answerOf(std::move(night));
  const std::string html = page({answer, nullptr, inputs, ofReader, UnitSystem::metric});
  EXPECT_EQ(html.find("<script>alert"), std::string::npos);
  EXPECT_EQ(html.find("<b>"), std::string::npos);
  EXPECT_EQ(nestingFault(html), "");
  EXPECT_NE(html.find("<h1>&lt;/title&gt;&lt;/script&gt;&lt;script&gt;alert(1)&lt;/script&gt; "
                      "&quot;x&#39; &amp; &lt;b&gt;</h1>"),
            std::string::npos);
  EXPECT_EQ(between(html, R"(id="data">)", "</script>").find('<'), std::string::npos);
}

TEST(Page, AsksForNothingFromAnywhere) {
  const std::string html = pageOf(answerOf(sampleNight()));
  const std::string policy = between(html, R"(Content-Security-Policy" content=")", "\"");
  EXPECT_TRUE(policy.starts_with("default-src 'none'; ")) << policy;
  EXPECT_EQ(policy.find("unsafe"), std::string::npos);
  EXPECT_EQ(policy.find("http"), std::string::npos);
  const std::string style = between(html, "<style>", "</style>");
  EXPECT_NE(policy.find("style-src '" + policyHash(style) + "'"), std::string::npos) << policy;
  // Without the plotting library there is no script to allow.
  const std::string script = between(html, "<script>", "</script>");
  const std::string allowed = script.empty() ? "none" : policyHash(script);
  EXPECT_NE(policy.find("script-src '" + allowed + "';"), std::string::npos) << policy;
  for (const std::string_view word : {" src=", "@import", "url(http", "<link", " style=\""})
    EXPECT_EQ(html.find(word), std::string::npos) << word;
  for (std::size_t at = 0; (at = html.find("href=\"", at)) != std::string::npos; ++at)
    EXPECT_EQ(html[at + 6], '#');
}

// 23:00 to 23:30 of the sample: the unit takes 450 W, the scanner 80 W, losses are 25 W, nothing
// gives: 555 W out of the bank. From 18:30 the engine gives 1000 W: 895 W go into the bank.
TEST(Page, PowersOfPicturesAreThoseOfTheNight) {
  const Json data = dataOf(pageOf(answerOf(sampleNight())));
  const Json& sources = pictureOf(data, "sources");
  const Json& uses = pictureOf(data, "uses");
  ASSERT_EQ(sources["edges"].size(), 29U);
  EXPECT_EQ(sources["edges"][10], 5.0 * kHour_s);
  ASSERT_EQ(sources["layers"].size(), 2U);
  EXPECT_EQ(sources["layers"][0]["word"], "bank");
  EXPECT_EQ(sources["layers"][0]["values"][10], 555.0);
  EXPECT_EQ(sources["layers"][1]["values"][1], 1000.0);
  ASSERT_EQ(uses["layers"].size(), 4U);
  EXPECT_EQ(uses["layers"][0]["values"][10], 450.0);
  EXPECT_EQ(uses["layers"][3]["values"][1], 895.0);
  for (std::size_t i = 0; i < 28; ++i) {
    double in_W = 0.0, out_W = 0.0;
    for (const Json& layer : sources["layers"])
      in_W += layer["values"][i].get<double>();
    for (const Json& layer : uses["layers"])
      out_W += layer["values"][i].get<double>();
    EXPECT_NEAR(in_W, out_W, 0.3) << i;
  }
}

TEST(Page, ChargePictureHasFloorQuietHoursRunsAndTheLowestPoint) {
  const Json data = dataOf(pageOf(answerOf(sampleNight())));
  const Json& charge = pictureOf(data, "charge");
  EXPECT_EQ(charge["layers"][0]["values"].front(), 100.0);
  EXPECT_EQ(charge["layers"][0]["values"].back(), 48.0);
  EXPECT_EQ(charge["levels"][0]["value"], 40.0);
  EXPECT_EQ(charge["marks"][0], Json::parse(R"({"at": 50400.0, "value": 48.0})"));
  ASSERT_EQ(charge["stripes"].size(), 2U);
  EXPECT_EQ(charge["stripes"][0]["spans"], Json::parse("[[14400.0, 46800.0]]"));  // 22:00 to 07:00
  EXPECT_EQ(charge["stripes"][1]["spans"], Json::parse("[[0.0, 3600.0]]"));
  EXPECT_EQ(data["start"], testing_support::kMidnight_s + 18.0 * kHour_s);
}

TEST(Page, DutyHasGapsWhereNothingIsWanted) {
  const Json data = dataOf(pageOf(answerOf(sampleNight())));
  const Json& values = pictureOf(data, "duty")["layers"][0]["values"];
  EXPECT_TRUE(values[5].is_null());
  EXPECT_EQ(values[6], 50.0);
}

TEST(Page, EveryPictureHasTitleDescriptionAndTable) {
  const std::string html = pageOf(answerOf(sampleNight()));
  for (const std::string id : {"charge", "sources", "uses", "duty"}) {
    const std::string figure = between(html, "<figure id=\"" + id + "\">", "</figure>");
    for (const std::string shape : {"wide", "narrow"}) {
      EXPECT_NE(figure.find("<title id=\"" + id + "-" + shape + "-t\">"), std::string::npos);
      EXPECT_GT(between(figure, "<desc id=\"" + id + "-" + shape + "-d\">", "</desc>").size(), 30U);
    }
    EXPECT_NE(figure.find("<details>"), std::string::npos);
    EXPECT_NE(figure.find("<figcaption>"), std::string::npos);
  }
}

TEST(Page, ALongPeriodHasNoMoreThanFiftyColumns) {
  for (const double hours : {0.4, 26.0, 240.0, 24.0 * 366}) {
    Night night = sampleNight();
    night.plant.span_s = hours * kHour_s;
    night.recorder.samples.clear();
    for (int i = 0; i < 480; ++i) {
      Sample sample;
      sample.span_s = night.plant.span_s / 480;
      sample.start_s = i * sample.span_s;
      night.recorder.samples.push_back(sample);
    }
    const Json data = dataOf(pageOf(answerOf(std::move(night))));
    EXPECT_LE(data["pictures"][0]["edges"].size(), 52U) << hours;
    EXPECT_GE(data["pictures"][0]["edges"].size(), 5U) << hours;
  }
}

TEST(Page, SettingsCardHasWhatIsSet) {
  const Answer answer = answerOf(sampleNight());
  const std::vector<scenario::EchoRow> inputs{
      {true, "generator", "generator", "", ""},
      {false, "generator.rule.start_below", "rule.start_below", "55 %", "nameplate"},
      {false, "generator.continuous", "continuous", "1900 W", "nameplate"}};
  const std::string html = page({answer, nullptr, inputs, {}, UnitSystem::metric});
  const std::string card = between(html, "<h2>Settings card</h2>", "</section>");
  EXPECT_NE(card.find("generator, rule start below"), std::string::npos);
  EXPECT_EQ(card.find("continuous"), std::string::npos);
  EXPECT_NE(between(html, "<h2>Inputs</h2>", "</section>").find("1900 W"), std::string::npos);
  EXPECT_NE(between(html, "<h2>Fuel and shopping list</h2>", "</section>").find("0.6 L"),
            std::string::npos);
}

}  // namespace
}  // namespace nightbank::report

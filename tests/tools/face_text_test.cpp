#include "tools/report/face_text.hpp"

#include <gtest/gtest.h>

#include <string>

namespace coldbay::face_text_test {
namespace {

/// One square metre at 20 degC between airs as warm, so that nothing but the words is to be told.
WallFaces plain_face() {
  const Axis metre({0.0, 1.0});
  const FaceMap map{metre, metre, {20.0}};
  WallFaces faces{
      BuiltWall{},  {}, {}, WallFace{map, map, {}, {}, 0.0, 0.0, 0.0, 0.0, 0.0, {}, {}, {}, {}, true, 0, {}},
      std::nullopt, {}};
  faces.built.heat_flow = 10.0;
  faces.built.heat_flow_uncertainty = 0.1;
  return faces;
}

std::string text_of(const WallFaces& faces, const std::optional<WholeWall>& sections = std::nullopt) {
  Case c;
  c.air.inside.temperature = c.air.outside.temperature = 20.0;
  return face_text(c, faces, sections);
}

bool says(const std::string& text, std::string_view words) { return text.find(words) != std::string::npos; }

TEST(FaceText, HeatIsToldByTheWayItGoes) {
  WallFaces faces = plain_face();
  EXPECT_TRUE(says(text_of(faces), "10.0 W from the room into the wall"));
  faces.built.heat_flow = -47.06;  // a summer's day
  EXPECT_TRUE(says(text_of(faces), "47.1 W from the wall into the room"));
  faces.built.heat_from_held = -12.0;  // cold water in a pipe
  faces.built.heat_to_outside = -59.06;
  EXPECT_TRUE(says(text_of(faces), "12.0 W into what runs in pipes, 59.1 W from the outside"));
}

TEST(FaceText, NoShareOfNextToNothing) {
  WallFaces faces = plain_face();
  EXPECT_TRUE(says(text_of(faces), "heat 1 %"));
  for (const double flow : {0.1, 0.01, 0.0}) {  // a pipe heats the wall, and the room next to nothing
    faces.built.heat_flow = flow;
    EXPECT_TRUE(says(text_of(faces), "heat 0.10 W")) << text_of(faces);
  }
}

TEST(FaceText, WhatNothingIsComparedWith) {
  WallFaces faces = plain_face();
  faces.not_compared = {"bay 1"};
  EXPECT_TRUE(says(text_of(faces), "what would be right in bay 1 is not known: nothing is compared with it"));
}

TEST(FaceText, WhereTheFaceIsNotKnownAsAsked) {
  WallFaces faces = plain_face();
  faces.built.reached = false;
  faces.built.parts = {{{0.0, 0.4}, 0.03, 0.01, 0.2, 0.2, true}, {{0.4, 0.8}, 0.21, 0.01, 0.55, 1.2, false}};
  const std::string text = text_of(faces);
  EXPECT_TRUE(says(text, "NOT REACHED everywhere, as built"));
  EXPECT_TRUE(
      says(text, "from 400 mm to 800 mm across, within 0.21 K; least at 550 mm across, 1200 mm above"));
  EXPECT_FALSE(says(text, "from 0 mm"));
}

TEST(FaceText, ABayThatNoSectionShowsCostsNotNothing) {
  WallFaces faces = plain_face();
  BayCost cost;
  cost.bay = "bay 1";
  cost.extra = 0.049;
  cost.uncertainty = 0.002;
  faces.costs = {cost};
  WholeWall sections;
  sections.bays = {0.0};
  sections.unseen = {{"bay 1", 1.0}};
  EXPECT_TRUE(says(text_of(faces, sections), "0.049 ± 0.002 W/K"));
  EXPECT_TRUE(says(text_of(faces, sections), "in no section"));
  EXPECT_TRUE(says(text_of(faces, sections), "at least 0.000 W/K"));
  faces.costs[0].in_some_section = true;
  EXPECT_FALSE(says(text_of(faces, sections), "in no section"));
}

}  // namespace
}  // namespace coldbay::face_text_test

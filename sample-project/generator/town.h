// SPDX-License-Identifier: GPL-3.0-or-later
// What the invented town is made of, before it is written as files. Lengths are US survey feet,
// places are on the town's plane (plane.h), years may have a fraction.
#pragma once

#include "sample-project/generator/plane.h"

#include <cstdint>
#include <string>
#include <vector>

namespace keyround::sample {

/// The town's origin in EPSG:3422, NAD83 / Nevada Central (ftUS): a stretch of desert with
/// nothing on it.
inline constexpr double originEast = 1816000.0;
inline constexpr double originNorth = 21130000.0;
inline constexpr int townEpsg = 3422;
inline constexpr std::uint64_t townSeed = 20260131;

enum class District { Downtown, OldGrid, WestSide, EastSide, Works, Outside };
enum class Rank { Arterial, Collector, Local, Service };
enum class Zone { Low, Middle, High };

struct Corner
{
    Spot spot;
    bool isSource = false; ///< the treatment plant or a tank stands here
    Zone zone = Zone::Middle;
};

struct StreetPiece
{
    int from = 0;
    int to = 0;
    Line line;
    std::string name;
    Rank rank = Rank::Local;
    int mph = 25;
    int oneWay = 0; ///< 1: as drawn, -1: against it
    District district = District::OldGrid;
    bool bridge = false;
    bool carriesMain = true;
    bool cutOff = false;
};

struct MainPiece
{
    std::string number;
    int from = 0; ///< corners, or -1 for a branch
    int to = 0;
    int street = 0;
    Line line;
    int inches = 8;
    int year = 1970;
    std::string material;
    Zone zone = Zone::Middle;
};

enum class Kind { Gate, GearedGate, Butterfly };
enum class Role { MainLine, HydrantLead, Boundary, BlowOff, Bypass, FireLine };

struct ValvePoint
{
    std::string number;
    Spot spot;
    int main = 0; ///< index of the main it sits on
    int inches = 8;
    Kind kind = Kind::Gate;
    Role role = Role::MainLine;
    double trueTurns = 0;
    double listedTurns = 0;     ///< 0: the list does not say
    bool closesLeft = false;    ///< counterclockwise closes, as listed
    bool turnsOtherWay = false; ///< the list has the direction wrong
    bool hasPlace = true;       ///< else only address and ties are known
    bool normallyClosed = false;
    int year = 1970;
    Zone zone = Zone::Middle;
    std::string surface;
    std::string address;
    std::string ties;
    double depthFeet = 0; ///< 0: not known
    std::string critical;
    std::string remarks;
    int page = 0; ///< the map page, by which crews go round
    bool retired = false;
};

struct HydrantPoint
{
    std::string number;
    Spot spot;
    std::string address;
    std::string mainNumber;
    int year = 1970;
};

struct ServicePoint
{
    std::string number;
    Spot spot;
    std::string address;
    std::string customer;
    std::string phone;
    std::string mainNumber;
    bool critical = false;
};

/// Where water comes into the mains.
struct SourcePoint
{
    std::string number;
    Spot spot;
    std::string name;
    std::string kind; ///< "Treatment plant", "Tank"
};

struct VisitRecord
{
    std::size_t valve = 0;
    double when = 0;  ///< year with its fraction: for ordering only
    std::string date; ///< 2024-05-06
    int minuteIn = 0; ///< of the day, local time
    int minuteOut = 0;
    std::string crew;
    std::string found;
    std::string left;
    double turnsClosed = -1; ///< below 0: none counted
    double turnsOpened = -1;
    std::vector<std::string> problems;
    std::string remarks;
};

struct Town
{
    std::vector<Corner> corners;
    std::vector<StreetPiece> streets;
    std::vector<MainPiece> mains;
    std::vector<SourcePoint> sources;
    std::vector<ValvePoint> valves;
    std::vector<HydrantPoint> hydrants;
    std::vector<ServicePoint> services;
    std::vector<VisitRecord> visits;
};

/// How far east of the plane's axis the river's middle runs at a northing.
[[nodiscard]] double riverAt(double y);
/// Where the water department's yard is: the end of Yard Lane.
inline constexpr Spot yardSpot{-3480.0, -3560.0};

/// "812 Feldspar Avenue": numbers grow to the east or to the north.
[[nodiscard]] std::string addressOn(const StreetPiece &street, Spot at, bool leftSide);

} // namespace keyround::sample

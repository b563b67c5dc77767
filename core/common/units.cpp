// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/units.h"

#include <array>
#include <cmath>
#include <cstdlib>

namespace keyround {

namespace {

struct SizePair
{
    int dn;
    int quarterInches;
};

// Nominal pipe sizes by both names (common practice; DN is the name of ISO 6708, not a length).
constexpr std::array sizePairs{
    SizePair{20, 3},     SizePair{25, 4},     SizePair{32, 5},     SizePair{40, 6},
    SizePair{50, 8},     SizePair{65, 10},    SizePair{80, 12},    SizePair{100, 16},
    SizePair{125, 20},   SizePair{150, 24},   SizePair{200, 32},   SizePair{250, 40},
    SizePair{300, 48},   SizePair{350, 56},   SizePair{400, 64},   SizePair{450, 72},
    SizePair{500, 80},   SizePair{600, 96},   SizePair{750, 120},  SizePair{900, 144},
    SizePair{1050, 168}, SizePair{1200, 192}, SizePair{1350, 216}, SizePair{1500, 240},
};

QString quartersText(int whole, int quarters)
{
    static const std::array<QString, 4> fractions{QString(), QStringLiteral("1/4"),
                                                  QStringLiteral("1/2"), QStringLiteral("3/4")};
    const QString &fraction = fractions[static_cast<size_t>(quarters)];
    if (quarters == 0) {
        return QString::number(whole);
    }
    return whole == 0 ? fraction : QStringLiteral("%1 %2").arg(whole).arg(fraction);
}

} // namespace

QString turnsText(QuarterTurns turns)
{
    const int magnitude = std::abs(turns.value);
    const QString text = quartersText(magnitude / 4, magnitude % 4);
    return turns.value < 0 ? QStringLiteral("-") + text : text;
}

int dnOf(NominalSize size)
{
    for (const SizePair &pair : sizePairs) {
        if (pair.quarterInches == size.quarterInches) {
            return pair.dn;
        }
    }
    return static_cast<int>(std::lround(size.inches() * 25.0));
}

NominalSize sizeOfDn(int dn)
{
    for (const SizePair &pair : sizePairs) {
        if (pair.dn == dn) {
            return NominalSize{pair.quarterInches};
        }
    }
    return {};
}

QString sizeText(NominalSize size, UnitSystem units)
{
    if (!size.isKnown()) {
        return {};
    }
    if (units == UnitSystem::Metric) {
        return QStringLiteral("DN %1").arg(dnOf(size));
    }
    return QStringLiteral("%1 in").arg(
        quartersText(size.quarterInches / 4, size.quarterInches % 4));
}

QString lengthText(Metres length, UnitSystem units)
{
    if (units == UnitSystem::Metric) {
        if (std::abs(length.value) < 1000.0) {
            return QStringLiteral("%1 m").arg(length.value, 0, 'f', length.value < 10.0 ? 1 : 0);
        }
        return QStringLiteral("%1 km").arg(length.value / 1000.0, 0, 'f', 1);
    }
    if (std::abs(length.value) < 0.1 * metresPerMile) {
        const double feet = length.value / metresPerFoot;
        return QStringLiteral("%1 ft").arg(feet, 0, 'f', feet < 10.0 ? 1 : 0);
    }
    return QStringLiteral("%1 mi").arg(length.value / metresPerMile, 0, 'f', 1);
}

QString durationText(Seconds duration)
{
    const auto seconds = std::lround(duration.value);
    if (std::labs(seconds) < 60) {
        return QStringLiteral("%1 s").arg(seconds);
    }
    const auto minutes = std::lround(duration.value / 60.0);
    if (minutes < 60) {
        return QStringLiteral("%1 min").arg(minutes);
    }
    return QStringLiteral("%1 h %2").arg(minutes / 60).arg(minutes % 60, 2, 10, QLatin1Char('0'));
}

} // namespace keyround

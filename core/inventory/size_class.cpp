// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/size_class.h"

namespace keyround {

SizeClass sizeClassOf(const NominalSize &size)
{
    constexpr int firstMiddleInches = 10;
    constexpr int firstLargeInches = 16;
    if (!size.isKnown()) {
        return SizeClass::Unknown;
    }
    if (size >= NominalSize::ofInches(firstLargeInches)) {
        return SizeClass::From16;
    }
    return size >= NominalSize::ofInches(firstMiddleInches) ? SizeClass::From10To14
                                                            : SizeClass::UpTo8;
}

QString wordFor(SizeClass size)
{
    switch (size) {
    case SizeClass::UpTo8:
        return QStringLiteral("up to 8 in");
    case SizeClass::From10To14:
        return QStringLiteral("10 to 14 in");
    case SizeClass::From16:
        return QStringLiteral("from 16 in");
    case SizeClass::Unknown:
        break;
    }
    return QStringLiteral("any size");
}

} // namespace keyround

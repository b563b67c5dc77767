// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/page_furniture.h"

#include <QFileInfo>

namespace keyround {

PageFurniture furnitureOf(Session &session)
{
    // What is looked at as on another day is dated so: the clock's hour is none of that day's.
    const bool isNow = session.today() == session.now().localDate();
    return {session.settings().utility, QFileInfo(session.project().path()).fileName(),
            isNow ? session.now().local().toString(QStringLiteral("yyyy-MM-dd HH:mm"))
                  : session.today().toString(Qt::ISODate),
            paperFor(session.units())};
}

} // namespace keyround

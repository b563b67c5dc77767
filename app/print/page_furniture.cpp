// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/print/page_furniture.h"

#include <QFileInfo>

namespace keyround {

PageFurniture furnitureOf(Session &session)
{
    return {session.settings().utility, QFileInfo(session.project().path()).fileName(),
            session.now().local().toString(QStringLiteral("yyyy-MM-dd HH:mm")),
            paperFor(session.units())};
}

} // namespace keyround

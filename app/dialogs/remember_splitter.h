// SPDX-License-Identifier: GPL-3.0-or-later
// A splitter that is found again as it was left.
#pragma once

#include <QSettings>
#include <QSplitter>

namespace keyround {

/// Call when the splitter holds its children and has its first sizes: sizes kept under this name
/// take their place. The splitter takes the name too.
inline void rememberSplitter(QSplitter *splitter, const QString &name)
{
    splitter->setObjectName(name);
    const QString key = QStringLiteral("splitters/") + name;
    const QByteArray kept = QSettings().value(key).toByteArray();
    if (!kept.isEmpty()) {
        splitter->restoreState(kept);
    }
    QObject::connect(splitter, &QSplitter::splitterMoved, splitter,
                     [splitter, key] { QSettings().setValue(key, splitter->saveState()); });
}

} // namespace keyround

// SPDX-License-Identifier: GPL-3.0-or-later
// Says what changed. Commands and the session tell it; models and places listen. Owned by the
// session; there is no global one.
#pragma once

#include <QObject>
#include <QString>

namespace keyround {

class Notifier : public QObject
{
    Q_OBJECT
public:
    using QObject::QObject;

Q_SIGNALS:
    void projectAboutToChange(); ///< the open project is about to be closed: save what waits
    void projectChanged();       ///< another project, or none: everything is new
    void valvesChanged();        ///< the inventory of valves
    void layersChanged();        ///< streets, mains, hydrants, services, sources
    void networkFixesChanged();  ///< what was decided by hand about the mains
    void shutsChanged();         ///< a shut was begun, or a step of one was done
    void noticesChanged();       ///< customers were told of work
    void visitsChanged();        ///< a visit was recorded
    void draftsChanged();        ///< a half-typed stop was saved or dropped
    void photosChanged();        ///< a photo was taken in, struck out, or went to its visit
    void roundsChanged();        ///< a round was made, changed, finished
    void repairsChanged(); ///< a repair request went on; a replaced valve tells valvesChanged() too
    /// A place or a valve was reported from the field, or the office decided on one.
    void fieldReportsChanged();
    void sitesChanged();    ///< something was said of a street or valve for its work zone
    void settingsChanged(); ///< units, policy, times, tolerance, yard
    /// Something that a person should read; shown in the message line of the window.
    void said(const QString &text);
    /// Something that went wrong: what, to what, what to do next. Stays until it is put away.
    void failed(const QString &text);
};

} // namespace keyround

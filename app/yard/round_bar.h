// SPDX-License-Identifier: GPL-3.0-or-later
// Which round lies on the desk, and what it is: date, crew, shift, start and finish; and what can
// be done with it as a whole.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/round.h"

#include <QWidget>

#include <functional>

class QComboBox;
class QHBoxLayout;
class QLabel;
class QPushButton;
class QToolButton;

namespace keyround {

class CheckedLine;
class RoundDesk;
class Session;

class RoundBar final : public QWidget
{
    Q_OBJECT
public:
    enum class End { None, Start, Finish };

    RoundBar(Session &session, RoundDesk &desk, QWidget *parent = nullptr);

    /// The end whose place is to be taken from the map now.
    [[nodiscard]] End endWanted() const { return m_endWanted; }
    /// The place clicked on the map for endWanted().
    void takePlace(const GeoPoint &place);

Q_SIGNALS:
    void drawUpWanted();
    void sheetWanted();
    void gpxWanted();
    void radioListWanted();
    void loadListWanted();
    void packetWanted();  ///< the whole day on paper, in the preview
    void noticesWanted(); ///< to those who lose water by a stop
    void workZonesWanted();
    void comingDaysWanted();
    void policyWanted();
    void endWantedChanged();

private:
    using Change = std::function<Status(Round &round, const QString &text)>;

    [[nodiscard]] QHBoxLayout *buildRoundLine();
    [[nodiscard]] QHBoxLayout *buildDayLine();
    CheckedLine *addLine(QHBoxLayout *row, const QString &label, const QString &name, int width,
                         const QString &what, Change change);
    void addLabel(QHBoxLayout *row, const QString &text);
    void addPlace(QHBoxLayout *row, End end);
    void wantEnd(End end);
    void refresh();
    void refreshChoice();
    void say(const Status &status);
    [[nodiscard]] Result<GeoPoint> endTyped(const QString &text) const;
    [[nodiscard]] QString endText(const GeoPoint &place) const;

    Session &m_session;
    RoundDesk &m_desk;
    End m_endWanted = End::None;
    QLabel *m_refusal = nullptr; ///< of all the day's fields
    QComboBox *m_choice = nullptr;
    QComboBox *m_crew = nullptr;
    CheckedLine *m_date = nullptr;
    CheckedLine *m_from = nullptr;
    CheckedLine *m_to = nullptr;
    CheckedLine *m_start = nullptr;
    CheckedLine *m_finish = nullptr;
    QToolButton *m_startFromMap = nullptr;
    QToolButton *m_finishFromMap = nullptr;
    QPushButton *m_drawUp = nullptr;
    QPushButton *m_bestOrder = nullptr;
    QPushButton *m_gpx = nullptr;
    QPushButton *m_radio = nullptr;
    QPushButton *m_onPaper = nullptr;
};

} // namespace keyround

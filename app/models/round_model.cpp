// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/models/round_model.h"

#include "app/dialogs/plain_label.h"
#include "app/models/cells.h"
#include "app/models/data_table.h"
#include "app/models/notice_words.h"
#include "app/shell/session.h"

#include <algorithm>

namespace keyround {

RoundModel::RoundModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
}

void RoundModel::setPlan(DayPlan plan, Round round)
{
    beginResetModel();
    m_plan = std::move(plan);
    m_round = std::move(round);
    endResetModel();
}

bool RoundModel::shows(const Round &round, const DayPlan &plan) const
{
    return m_round == round && m_plan.stops.size() == plan.stops.size() &&
           std::ranges::equal(m_plan.stops, plan.stops,
                              [](const PlannedStop &a, const PlannedStop &b) {
                                  return a.valve == b.valve && a.arrive == b.arrive &&
                                         a.leave == b.leave && a.missesHours == b.missesHours;
                              });
}

ValveId RoundModel::valveAt(int row) const
{
    return m_plan.stops.at(static_cast<size_t>(row)).valve;
}

int RoundModel::rowOf(const ValveId &valve) const
{
    const auto found = std::ranges::find(m_plan.stops, valve, &PlannedStop::valve);
    return found == m_plan.stops.end() ? -1 : static_cast<int>(found - m_plan.stops.begin());
}

int RoundModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_plan.stops.size());
}

int RoundModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : ColumnCount;
}

QVariant RoundModel::text(int row, int column) const
{
    const PlannedStop &stop = m_plan.stops[static_cast<size_t>(row)];
    const Valve *valve = m_session.valve(stop.valve);
    switch (column) {
    case Order:
        return QString::number(row + 1);
    case Number:
        return valve != nullptr ? valve->number : QString();
    case Decided:
        return decidedText(row);
    case Arrive:
        return stop.arrive.toString(QStringLiteral("HH:mm"));
    case Leave:
        return stop.leave.toString(QStringLiteral("HH:mm"));
    case Drive:
        return durationText(Seconds{stop.driveSeconds});
    case Wait:
        return stop.waitSeconds < 30.0 ? QString() : durationText(Seconds{stop.waitSeconds});
    case Distance:
        return lengthText(Metres{stop.driveMetres}, m_session.units());
    case OnSite:
        return durationText(Seconds{stop.stopMinutes * 60.0});
    case Place:
        return valve != nullptr ? valve->address : QString();
    case NoticeColumn:
        return noticeText(stop);
    default:
        return {};
    }
}

QString RoundModel::noticeText(const PlannedStop &stop) const
{
    switch (noticeStanding(m_session, stop.valve, QDateTime(m_round.date, stop.begin)).state) {
    case NoticeState::Given:
        return tr("given");
    case NoticeState::Needed:
        return tr("! needed: %1 services").arg(m_session.shutLoad(stop.valve).services);
    case NoticeState::NotNeeded:
        break;
    }
    return {};
}

QString RoundModel::decidedText(int row) const
{
    const auto isHeld = [this](int index) {
        return index >= 0 && index + 1 < rowCount() &&
               m_round.heldToNext.contains(m_plan.stops[static_cast<size_t>(index)].valve);
    };
    QStringList words;
    if (isHeld(row - 1) || isHeld(row)) {
        const QChar sign = !isHeld(row - 1) ? QChar(0x2510) // the corner that opens downward
                           : isHeld(row)    ? QChar(0x2524) // a beam between
                                            : QChar(0x2518);   // the corner that closes
        words << tr("%1 held").arg(sign);
    }
    if (m_round.firstIsPinned && row == 0) {
        words << tr("%1 first").arg(QChar(0x25B2));
    }
    if (m_round.lastIsPinned && row + 1 == rowCount()) {
        words << tr("%1 last").arg(QChar(0x25BC));
    }
    const PlannedStop &stop = m_plan.stops[static_cast<size_t>(row)];
    if (m_round.mustGo.contains(stop.valve)) {
        words << tr("! must go");
    }
    if (!stop.missesHours.isEmpty()) {
        words << tr("! busy hours");
    }
    return words.join(QStringLiteral(", "));
}

QVariant RoundModel::sortValue(int row, int column) const
{
    const PlannedStop &stop = m_plan.stops[static_cast<size_t>(row)];
    switch (column) {
    case Order:
        return row;
    case Arrive:
        return stop.arrive;
    case Leave:
        return stop.leave;
    case Drive:
        return stop.driveSeconds;
    case Wait:
        return stop.waitSeconds;
    case Distance:
        return stop.driveMetres;
    case OnSite:
        return stop.stopMinutes;
    default:
        return naturalKey(text(row, column).toString());
    }
}

QVariant RoundModel::toolTip(const PlannedStop &stop, int column) const
{
    if (column == NoticeColumn) {
        return plainToolTip(
            noticeStanding(m_session, stop.valve, QDateTime(m_round.date, stop.begin)).words);
    }
    return column == Decided ? plainToolTip(stop.missesHours) : QVariant();
}

QVariant RoundModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    switch (role) {
    case Qt::DisplayRole:
        return text(index.row(), index.column());
    case DataTable::sortRole:
        return sortValue(index.row(), index.column());
    case Qt::ToolTipRole:
        return toolTip(m_plan.stops[static_cast<size_t>(index.row())], index.column());
    default:
        return {};
    }
}

QVariant RoundModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    switch (section) {
    case Order:
        return tr("Stop");
    case Number:
        return tr("Valve");
    case Decided:
        return tr("Decided");
    case Arrive:
        return tr("Arrive");
    case Leave:
        return tr("Leave");
    case Drive:
        return tr("Drive");
    case Wait:
        return tr("Wait");
    case Distance:
        return tr("Distance");
    case OnSite:
        return tr("On site");
    case Place:
        return tr("Place");
    case NoticeColumn:
        return tr("Notice");
    default:
        return {};
    }
}

} // namespace keyround

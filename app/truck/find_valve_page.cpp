// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/find_valve_page.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/button_list.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/stop_words.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>

#include <algorithm>

namespace keyround {

namespace {

constexpr std::size_t shownAtMost = 20;

/// 0: the number itself; 1: it begins so; 2: the text stands within it; 3: within the address.
int rankOf(const Valve &valve, const QString &text)
{
    if (valve.number.compare(text, Qt::CaseInsensitive) == 0) {
        return 0;
    }
    if (valve.number.startsWith(text, Qt::CaseInsensitive)) {
        return 1;
    }
    if (valve.number.contains(text, Qt::CaseInsensitive)) {
        return 2;
    }
    return valve.address.contains(text, Qt::CaseInsensitive) ? 3 : 4;
}

} // namespace

FindValvePage::FindValvePage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_edit(new QLineEdit(this)), m_note(truckLabel(this)),
      m_list(new ButtonList(this)), m_back(new BigButton(BigButton::Kind::Plain, tr("Back"), this))
{
    const int gap = TruckScale::of(this).gap;
    auto *question = truckLabel(this, TextSize::Title, true);
    question->setText(tr("Which valve? A part of its number or its address"));
    question->setBuddy(m_edit);
    m_edit->setObjectName(QStringLiteral("find-valve"));
    m_edit->setAccessibleName(question->text());
    m_note->setObjectName(QStringLiteral("find-note"));
    m_back->setObjectName(QStringLiteral("find-back"));
    m_back->setHint(tr("Esc"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap * 2, gap, gap * 2, gap);
    layout->setSpacing(gap);
    layout->addWidget(question);
    layout->addWidget(m_edit);
    layout->addWidget(m_note);
    layout->addWidget(m_list, 1);
    auto *drop =
        new BigButton(BigButton::Kind::Plain, tr("Not on the list: drop a point here"), this);
    drop->setObjectName(QStringLiteral("drop-point"));
    connect(drop, &QAbstractButton::clicked, this, &FindValvePage::dropAsked);
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(m_back, 1);
    foot->addWidget(drop, 2);
    layout->addLayout(foot);
    connect(m_edit, &QLineEdit::textEdited, this, &FindValvePage::showMatches);
    connect(m_edit, &QLineEdit::returnPressed, this, [this] {
        if (!m_list->rows().isEmpty()) {
            m_list->focusRow(0); // looked at before it is taken
        }
    });
    connect(m_back, &QAbstractButton::clicked, this, &FindValvePage::backAsked);
}

void FindValvePage::load(const GeoPoint &near, const QString &where)
{
    m_near = near;
    m_where = where;
    m_edit->clear();
    showMatches();
}

std::vector<const Valve *> FindValvePage::matches(const QString &text)
{
    std::vector<std::pair<int, const Valve *>> ranked;
    for (const Valve &valve : m_session.valves()) {
        const int rank = rankOf(valve, text);
        if (!valve.retired && rank < 4) {
            ranked.emplace_back(rank, &valve);
        }
    }
    std::ranges::stable_sort(ranked, {}, &std::pair<int, const Valve *>::first);
    std::vector<const Valve *> found;
    for (std::size_t i = 0; i < std::min(shownAtMost, ranked.size()); ++i) {
        found.push_back(ranked[i].second);
    }
    return found;
}

std::vector<const Valve *> FindValvePage::nearest()
{
    std::vector<std::pair<double, const Valve *>> far;
    for (const Valve &valve : m_session.valves()) {
        if (!valve.retired && valve.place.isValid()) {
            far.emplace_back(distanceBetween(m_near, valve.place).value, &valve);
        }
    }
    const auto shown = static_cast<std::ptrdiff_t>(std::min(shownAtMost, far.size()));
    std::partial_sort(far.begin(), far.begin() + shown, far.end());
    std::vector<const Valve *> found;
    for (std::ptrdiff_t i = 0; i < shown; ++i) {
        found.push_back(far[static_cast<std::size_t>(i)].second);
    }
    return found;
}

void FindValvePage::showMatches()
{
    m_list->clear();
    const QString text = m_edit->text().trimmed();
    const bool byPlace = text.isEmpty() && m_near.isValid();
    std::vector<const Valve *> found;
    if (!text.isEmpty()) {
        found = matches(text);
    } else if (byPlace) {
        found = nearest();
    }
    QString note;
    if (text.isEmpty()) {
        note = byPlace ? tr("The nearest to %1:").arg(m_where)
                       : tr("No position is known: type a part of the number or the address.");
    } else if (found.empty()) {
        note = tr("No valve has \"%1\" in its number or address. A valve that is in the ground and "
                  "on no list: drop a point here.")
                   .arg(text);
    }
    setNote(m_note, NoteKind::Quiet, note);
    for (const Valve *valve : found) {
        QStringList second{valve->address.isEmpty() ? valve->ties : valve->address};
        if (m_near.isValid() && valve->place.isValid()) {
            second.prepend(lengthText(distanceBetween(m_near, valve->place), m_session.units()));
        }
        second.removeAll(QString());
        auto *row =
            m_list->addRow(titleOf(*valve, m_session.units()), second.join(QStringLiteral(" · ")));
        row->setObjectName(QStringLiteral("found-valve-") + valve->number);
        connect(row, &QAbstractButton::clicked, this,
                [this, id = valve->id] { Q_EMIT recordAsked(id); });
    }
}

void FindValvePage::focusField()
{
    m_edit->setFocus();
}

void FindValvePage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape && !event->isAutoRepeat()) {
        Q_EMIT backAsked();
        return;
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround

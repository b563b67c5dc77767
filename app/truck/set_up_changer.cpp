// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/set_up_changer.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"

#include <QGridLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

namespace keyround {

namespace {

/// Empty: as worked out.
Result<std::optional<double>> numberIn(const QLineEdit *edit)
{
    const QString text = edit->text().trimmed();
    if (text.isEmpty()) {
        return std::optional<double>();
    }
    bool isNumber = false;
    const double number =
        QString(text).replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&isNumber);
    if (!isNumber || number < 0) {
        return fail(ErrorCode::BadInput,
                    QObject::tr("%1: \"%2\" is no number from 0 on. Leave it empty for what was "
                                "worked out.")
                        .arg(edit->accessibleName(), text));
    }
    return std::optional(number);
}

Status takeCount(const QLineEdit *edit, std::optional<int> &target)
{
    return numberIn(edit).and_then([&](const std::optional<double> &number) -> Status {
        constexpr double most = 1000;
        if (number && (*number > most || *number != static_cast<int>(*number))) {
            return fail(ErrorCode::BadInput, QObject::tr("%1: give a whole number, at most %2.")
                                                 .arg(edit->accessibleName())
                                                 .arg(most));
        }
        target.reset();
        if (number) {
            target = static_cast<int>(*number);
        }
        return {};
    });
}

Status takeLength(const QLineEdit *edit, UnitSystem units, std::optional<Feet> &target)
{
    return numberIn(edit).map([&](const std::optional<double> &number) {
        target.reset();
        if (number) {
            target = units == UnitSystem::Us ? Feet{*number} : Feet::of({*number});
        }
    });
}

QString countText(const std::optional<int> &count)
{
    return count ? QString::number(*count) : QString();
}

QString lengthNumber(const std::optional<Feet> &length, UnitSystem units)
{
    if (!length) {
        return {};
    }
    return units == UnitSystem::Us ? QString::number(length->value)
                                   : QString::number(length->metres().value, 'g', 4);
}

} // namespace

SetUpChanger::SetUpChanger(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_message(truckLabel(this, TextSize::Small)),
      m_saved(new BigButton(BigButton::Kind::Plain, tr("Saved set-ups"), this))
{
    const int gap = TruckScale::of(this).gap;
    auto *grid = new QGridLayout;
    grid->setSpacing(gap);
    m_by = addField(grid, 0, 0, "change-by", tr("Who"));
    m_why = addField(grid, 0, 1, "change-why", tr("Why"));
    m_name = addField(grid, 0, 2, "change-name", tr("Save as"));
    m_cones = addField(grid, 1, 0, "change-cones", tr("Cones"));
    m_flaggers = addField(grid, 1, 1, "change-flaggers", tr("Flaggers"));
    m_people = addField(grid, 1, 2, "change-people", tr("People"));
    m_taper = addField(grid, 2, 0, "change-taper", tr("Taper"));
    m_buffer = addField(grid, 2, 1, "change-buffer", tr("Buffer"));
    m_saved->setObjectName(QStringLiteral("change-saved"));
    grid->addWidget(m_saved, 2, 2);
    m_message->setObjectName(QStringLiteral("change-message"));
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    const auto add = [this, foot](const char *name, const QString &words, const QString &hint,
                                  auto pressed) {
        auto *button = new BigButton(BigButton::Kind::Plain, words, this);
        button->setObjectName(QLatin1String(name));
        button->setHint(hint);
        button->setTargetMillimetres(38, 20);
        connect(button, &QAbstractButton::clicked, this, pressed);
        foot->addWidget(button);
    };
    add("change-keep", tr("Keep for this valve"), tr("Enter"), [this] { keep(ZoneScope::Valve); });
    add("change-keep-street", tr("Keep for the street"), {}, [this] { keep(ZoneScope::Street); });
    add("change-take-back", tr("As worked out"), {}, [this] { takeBack(); });
    add("change-leave", tr("Leave it"), tr("Esc"), [this] { close(); });
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap);
    layout->addLayout(grid);
    layout->addWidget(m_message);
    layout->addStretch();
    layout->addLayout(foot);
    connect(m_saved, &QAbstractButton::clicked, this, &SetUpChanger::useSaved);
}

QLineEdit *SetUpChanger::addField(QGridLayout *grid, int row, int column, const char *name,
                                  const QString &label)
{
    auto *cell = new QHBoxLayout;
    auto *words = truckLabel(this, TextSize::Small);
    words->setText(label);
    words->setWordWrap(false);
    auto *edit = new QLineEdit(this);
    edit->setObjectName(QLatin1String(name));
    edit->setAccessibleName(label);
    edit->setFont(truckFont(this, TextSize::Normal));
    edit->setMinimumSize(TruckScale::of(this).target, TruckScale::of(this).target);
    cell->addWidget(words);
    cell->addWidget(edit, 1);
    grid->addLayout(cell, row, column);
    return edit;
}

void SetUpChanger::open(const Valve &valve)
{
    m_valve = valve;
    m_nextSaved = 0;
    const bool isUs = m_session.units() == UnitSystem::Us;
    for (QLineEdit *edit : {m_taper, m_buffer}) {
        edit->setPlaceholderText(isUs ? tr("ft") : tr("m"));
    }
    const auto own = changeOf(m_session, valve, ZoneScope::Valve);
    SetUpOverride change =
        own.value_or(changeOf(m_session, valve, ZoneScope::Street).value_or(SetUpOverride{}));
    if (change.by.isEmpty()) {
        change.by = m_session.author().person;
    }
    fill(change);
    m_saved->setEnabled(!m_session.settings().savedSetUps.empty());
    refuse({});
}

void SetUpChanger::fill(const SetUpOverride &change)
{
    const UnitSystem units = m_session.units();
    m_by->setText(change.by);
    m_why->setText(change.why);
    m_name->setText(change.name);
    m_cones->setText(countText(change.cones));
    m_flaggers->setText(countText(change.flaggers));
    m_people->setText(countText(change.people));
    m_taper->setText(lengthNumber(change.taper, units));
    m_buffer->setText(lengthNumber(change.buffer, units));
}

Result<SetUpOverride> SetUpChanger::typed() const
{
    SetUpOverride change;
    change.by = m_by->text().trimmed();
    change.why = m_why->text().trimmed();
    change.name = m_name->text().trimmed();
    const UnitSystem units = m_session.units();
    return takeCount(m_cones, change.cones)
        .and_then([&] { return takeCount(m_flaggers, change.flaggers); })
        .and_then([&] { return takeCount(m_people, change.people); })
        .and_then([&] { return takeLength(m_taper, units, change.taper); })
        .and_then([&] { return takeLength(m_buffer, units, change.buffer); })
        .map([&] { return change; });
}

void SetUpChanger::keep(ZoneScope scope)
{
    const Result<SetUpOverride> change = typed();
    Status kept = change ? changeSetUp(m_session, m_valve, scope, *change)
                         : Status(tl::unexpected(change.error()));
    if (kept && !change->name.isEmpty()) {
        kept = saveSetUp(m_session, *change);
    }
    if (!kept) {
        refuse(kept.error().message);
        return;
    }
    close();
}

void SetUpChanger::takeBack()
{
    const Status kept = changeSetUp(m_session, m_valve, ZoneScope::Valve, {}).and_then([this] {
        return changeSetUp(m_session, m_valve, ZoneScope::Street, {});
    });
    if (!kept) {
        refuse(kept.error().message);
        return;
    }
    close();
}

void SetUpChanger::useSaved()
{
    const std::vector<SetUpOverride> &saved = m_session.settings().savedSetUps;
    if (saved.empty()) {
        return;
    }
    SetUpOverride change = saved[m_nextSaved % saved.size()];
    m_nextSaved = (m_nextSaved + 1) % saved.size();
    change.by = m_by->text(); // who takes it now, not who made it
    fill(change);
    refuse({});
}

void SetUpChanger::close()
{
    m_valve = {};
    Q_EMIT done();
}

void SetUpChanger::refuse(const QString &why)
{
    setNote(m_message, why.isEmpty() ? NoteKind::Quiet : NoteKind::Danger,
            why.isEmpty() ? tr("What is left empty stays as worked out. The name stands on the "
                               "sheet beside what was changed.")
                          : why);
}

QWidget *SetUpChanger::firstField() const
{
    return m_cones;
}

bool SetUpChanger::takeKey(QKeyEvent *event)
{
    switch (event->key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
        keep(ZoneScope::Valve);
        return true;
    case Qt::Key_Escape:
        close();
        return true;
    default:
        break;
    }
    // Keys that mean something to the page do not while somebody types here.
    return event->key() == Qt::Key_Delete || event->key() == Qt::Key_S || event->key() == Qt::Key_L;
}

} // namespace keyround
